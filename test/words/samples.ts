import type { en } from '../../lib/words/en';
import type { headlines } from '../../lib/words/en/headlines';
import type { verdict } from '../../lib/words/en/verdict';
import type { Phrase, Place, ValuesOf } from '../../lib/words/phrase';

type Catalogue = typeof en & typeof headlines & typeof verdict;

/** What values of a name may be, whatever the code; counts one and many, levels of either sign where they may be. */
const COMMON = {
  ...{ label: ['unit_deep_+3'], lower: ['deep +3'], upper: ['deep +6'], take: ['take 2'], setting: ['deep'] },
  ...{ name: ['', 'deep'], a: ['deep'], b: ['flat'], stimulus: ['sweep.wav'], device: ['Unit A', null] },
  ...{ from: ['deep 0'], to: ['deep +6'], names: ['deep and flat'], runs: [1, 7], orders: ['2', '2 3', '2 3 5'] },
  ...{ atS: [1.2345], usedS: [0.5], otherS: [14.25], seconds: [2.34567] },
  ...{ atHz: [34.5678], hz: [34.5678, 100], lowHz: [18.2345], highHz: [104.567], lowestHz: [12.3456], toHz: [61.234] },
  ...{ fromHz: [1234.5], topHz: [80], hingeHz: [35.678], f0Hz: [24.567], frequencyHz: [28.654], firstHz: [20.25] },
  ...{ cornerHz: [140], floorHz: [11.111], toneHz: [1000.1], mainsHz: [50], strongestHz: [150.08] },
  ...{ captureHz: [44_100], stimulusHz: [48_000], spanLowHz: [11.22], spanHighHz: [355.48] },
  ...{ snrDb: [10], byDb: [5.0678, -4], offDb: [2.2, -6], mostDb: [1.5], dropDb: [12.34], riseDb: [3] },
  ...{ levelDb: [96.42], lowDriveDb: [-24], highDriveDb: [0], driveDb: [-12, 0, 4.5], heightDb: [5, 4.56] },
  ...{ rmsErrorDb: [1.6], fallDb: [0, 2.5], tiltDb: [-1.2], spreadDb: [3.4], lossDb: [1.2345], downDb: [3, 4.5] },
  ...{ measuredDb: [2.8], uncertaintyDb: [0.04], commandedDb: [3, 2.5], stepDb: [3, 2.5], raisedDb: [0, -0.6, 0.4] },
  ...{
    db: [-1.25, 4],
    lowestDb: [-3.21],
    referenceDb: [84.25],
    fullScaleDb: [120.04],
    driftDb: [0.35],
    nearDb: [98.23],
  },
  ...{ toneDbfs: [-20.51], peakDbfs: [-41.2, 1.3], plateauDbfs: [-3.21], failedDb: [-20], passedDb: [-17.5] },
  ...{
    percent: [3, 0.456, -6.7],
    expectedPercent: [1.2],
    ppm: [-1234, 52.25],
    uncertaintyPpm: [3.21],
    detourM: [3.456],
  },
  ...{ slopeDbPerOctave: [23.6], octaves: [2.345], relative: [true, false], atLeast: [true, false] },
  ...{ used: ['commanded', 'measured'], lacks: ['harmonics', 'response'], order: ['1,0,0'], end: ['low', 'high'] },
} as const;

type Common = keyof typeof COMMON;
/** What values there are beside the common ones, or in their stead; `#hz` stands for a list: hz1, hz2, ... */
type Choices<P extends Phrase> =
  ValuesOf<P> extends infer V
    ? { [K in Exclude<keyof V, Common>]: readonly V[K][] } & { [K in keyof V & Common]?: readonly V[K][] } & {
        [list: `#${string}`]: readonly unknown[];
      }
    : never;

const LISTED_HZ = { '#hz': [20, 31.5, 50.1234] };
const REGIONS = {
  ...{ '#lowHz': [11.2, 45.6, 89.1], '#highHz': [28.4, 56.7, 355], '#fromDriveDb': [-12, 3, 6] },
  '#toDriveDb': [-9, 3, 7.5],
};
const LIMITS = {
  ...REGIONS,
  lastOnly: [false, true],
  sharp: [true, false, null],
  nearDb: [98.2, null],
  spanLowHz: [null],
  spanHighHz: [null],
  firstDriveDb: [3],
};
const SWITCH = { hz: [20, null], byDb: [5.1, -4, null] };
const PLACES = ['free field', 'half space', 'room', 'unknown'] as const;

const samples: { [C in keyof Catalogue]: Choices<Catalogue[C]> } = {
  // ---- captures
  'capture-not-good': { verdict: ['bad', 'doubtful'], recording: ['a1'] },
  'captures-not-good': { bad: [0, 1, 3], doubtful: [1, 2] },
  'capture-clipped': { samples: [1, 12], atS: [1.2345, null] },
  'capture-overloaded': { halfWaves: [12] },
  'capture-end-missing': {},
  'capture-start-missing': {},
  'capture-under-octave': {},
  'capture-no-signal': {},
  'capture-level-low': {},
  'capture-level-beyond': {},
  'capture-level-close': {},
  'capture-near-noise': {},
  'capture-some-noise': {},
  'take-differs': { byDb: [5.1] },
  'capture-unlike-neighbours': { what: ['level', 'noise', 'distortion'], neighbours: ['a1'], byDb: [5.1] },
  'capture-hum': { lines: [1, 3], unit: ['spl', 'relative', 'unknown'], levelDb: [-53.5, 41] },
  'capture-hum-stays': { lines: [1, 3] },
  'capture-rates-differ': {},
  'capture-rate-unsure': { sweepS: [1.98], leastS: [4] },
  'capture-clock-off': { uncertaintyPpm: [3.21, null] },
  'capture-band-limited': {},
  'capture-coded': {},
  'capture-gaps': { gaps: [1, 3], kind: ['silent', 'held'] },
  'capture-jumps': { jumps: [1, 3] },
  'capture-several-sweeps': {},
  'capture-gain-follows': {},
  'capture-rate-mislabelled': { percent: [8.84, -8.13] },
  'wav-several-data': { sounds: [2] },
  'wav-length-open': {},
  'wav-cut-short': { promisedBytes: [96_000], heldBytes: [48_000], promisedS: [1], heldS: [0.5] },
  'wav-part-frame': { bytes: [1, 3] },
  'wav-frame-size': { bits: [24], bytesPerFrame: [4, 8], channels: [1, 2], bytesPerSample: [4] },

  // ---- curves
  'near-noise': {},
  'fit-in-noise': { snrDb: [3.4] },
  'reference-band-missing': {},
  'range-to-curve-end': {},
  'range-to-noise': {},
  'range-to-mask': {},
  'needed-height-of-part': {},
  'roll-off-misfit': {},
  'roll-off-little-fall': {},
  'roll-off-no-pass-band': {},
  'roll-off-floor': {},
  'roll-off-other-order': {},
  'roll-off-upper': {},
  'roll-off-tilt': {},

  // ---- missing
  'analysis-missing': { analysis: ['roll-off', 'another'] },
  'run-left-out': { analysis: ['band-fit'] },
  'same-run-twice': { used: ['step-1.csv'], other: ['step-01.csv'], same: [true, false] },
  'file-refused': {},
  'files-refused': { count: [1, 3] },
  'page-runs-thinned': { shown: [12], of: [240] },
  'page-figures-left': { count: [1, 3] },
  'page-tables-left': { names: ['ladder.csv'] },
  'noise-unlike': {},
  'run-set-aside': { analysis: ['compression-ladder'], why: ['scale', 'drive', 'range'] },

  // ---- deconvolution
  'not-a-sweep': {},
  'capture-noise-unknown': {},
  'earlier-stimulus': {},

  // ---- import
  'encoding-found': { encoding: ['UTF-16LE'], by: ['mark', 'zeros', 'bytes'] },
  'characters-broken': { count: [1, 3] },
  'blanks-replaced': {},
  'delimiter-found': { delimiter: [',', ';', '\t', ' ', '|'] },
  'decimal-sign-found': { sign: ['.', ','], met: [true, false] },
  'decimal-sign-unsure': { sign: ['.', ','], taken: ['decimal', 'thousands'] },
  'decimals-unsure': {},
  'decimal-comma-late': {},
  'row-numbers-left-out': { column: [1] },
  'columns-chosen': {
    ...{ frequency: [1], frequencyHeading: ['Hz', null], level: [2], levelHeading: ['dB', null] },
    ...{ phase: [3, null], phaseHeading: ['deg', null], noise: [4, null], noiseHeading: ['noise', null] },
    unused: ['5', '5, 6', null],
  },
  'columns-alike': { kind: ['level', 'phase'], taken: [2], others: ['3'] },
  'frequency-column-unsure': { taken: [1], others: ['2'], rises: [true, false] },
  'phase-column-unsure': { level: [2], phase: [3] },
  'heading-passed-over': {},
  'frequency-unit-odd': { unit: ['Hz'], heading: ['mHz', 'cycles'] },
  'level-unit-unsure': { column: [2], lowest: [0.01], highest: [1.5], look: ['magnitude', 'wide'] },
  'rows-start-again': { turns: [1, 3] },
  'row-apart': { hz: [48000.5], db: [94.2] },
  'frequency-unit': { unit: ['Hz', 'kHz'], from: ['heading', 'assumed'] },
  'frequency-unit-against-heading': { unit: ['Hz'], heading: ['kHz'] },
  'frequency-unit-unsure': { fromHz: [0.025], toHz: [0.5] },
  'level-unit': { unit: ['dB', 'linear', 'Pa'], from: ['heading', 'assumed'] },
  'level-scale': { scale: ['spl', 'relative'], from: ['text', 'assumed'] },
  'phase-in-radians': {},
  'rows-dropped': {
    count: [1, 3],
    of: [400],
    why: [
      ...(['frequency-not-positive', 'frequency-missing', 'level-missing', 'level-not-positive'] as const),
      ...(['phase-missing', 'noise-missing', 'too-many-columns', 'too-few-columns'] as const),
    ],
  },
  'long-lines-dropped': { count: [1, 3] },
  'text-skipped': { count: [1, 3] },
  'thousands-separators-removed': { count: [1, 3] },
  'column-left-out': { column: ['phase', 'noise'], missing: [1, 3], of: [400] },
  'rows-sorted': {},
  'frequencies-merged': { count: [1, 3] },
  'frequencies-merged-unlike': { count: [1, 3] },
  'name-off-pattern': { name: ['run 1.txt'], pattern: ['{device}_{setting}_{drive}'] },
  'name-without-date': { name: ['run 1.txt'], text: ['x'] },
  'name-without-number': { name: ['run 1.txt'], text: ['x'], field: ['driveDb', 'step', 'distanceM', 'angle'] },
  'several-channels': { channels: [2] },
  'no-correction': {},

  // ---- ladder
  'ladder-too-few-drives': { runs: ['deep 0'] },
  'ladder-places-differ': {},
  'ladder-repeats': { runs: [2] },
  'ladder-repeats-differ': { offDb: [2.2] },
  'ladder-noise-partial': {},
  'ladder-noise-unknown': {},
  'ladder-noise-estimated': {},
  'ladder-curves-smoothed': { points: [4] },
  'ladder-noise-unknown-bands': {},
  'ladder-near-noise': {},
  'ladder-no-reference': {},
  'ladder-few-points': {},
  'ladder-no-step-above': {},
  'ladder-reference-short': {},
  'ladder-stuck': {},
  'ladder-step-of-two': {},
  'ladder-step-unmeasured': {},
  'ladder-step-uncertain': {},
  'ladder-step-differs': { measuredDb: [2.8, 3.3] },
  'ladder-run-off': { evened: [true, false] },
  'ladder-common-loss': {},
  'ladder-expansion': { rungs: [1, 3] },
  'ladder-gain-slipped': {},
  'ladder-response-changed': {},
  'ladder-not-rising': {},
  'ladder-file-twice': {},
  'ladder-rungs-swapped': {},
  'ladder-rung-off': {},
  'ladder-last-run-low': {},
  'ladder-cells-off': {},
  'ladder-cells-rough': { label: ['d_plain_18'], scatterDb: [4.25] },
  'ladder-last-cells-low': { label: ['d_plain_18'], lowDb: [5.31] },
  'ladder-last-only': { label: ['d_plain_18'] },
  'ladder-part-judged': { rungs: [3], of: [8] },
  'ladder-broken': { falls: [true, false] },

  // ---- room
  'dip-in-noise': {},
  'feature-hidden': { hidden: [1, 3], of: [4] },
  'room-unlike': { correlation: [-0.04, 0.3] },
  'dips-not-masked': { masked: [0, 1, 3], unknown: [1, 2], unit: [0, 1, 2] },
  'cause-mode': { kind: ['axial', 'tangential'], frequencyHz: [28.654] },
  'cause-interference': { otherOrder: ['0,1,0'], otherHz: [34.567], frequencyHz: [0, 28.654] },
  'cause-boundary': { boundary: ['floor'] },
  'cause-signature': { units: [3] },

  // ---- settings
  'setting-drives-differ': {},
  'setting-drives-unknown': {},
  'setting-matched-by-level': {},
  'setting-limiting-unknown': {},
  'setting-limited': {},
  'setting-band-untrusted': {},
  'setting-too-little': {},
  'setting-offset-removed': {},
  'setting-level-changed': {},
  'setting-asymptote-not-seen': {},
  'setting-asymptote-foretold': {},
  'setting-top-differs': {},
  'setting-not-shown': {},
  'setting-no-common-position': {},
  'setting-only-one': {},

  // ---- sound
  'thd-orders-missing': {},
  'thd-orders-incomplete': {},
  'thd-band-not-reached': {},
  'thd-noise-unknown': {},
  'thd-near-noise': {},
  'thd-passed-from-start': { percent: [3, 0.3] },
  'thd-outlier': { percent: [12.3] },
  'thd-run-left-out': {},
  'thd-drives-unknown': {},
  'thd-places-differ': {},
  'thd-repeats': { runs: [2] },
  'thd-not-measured': {},
  'output-assumption': { place: PLACES, distancesM: ['', '2', '1.5 3'], calibrated: [true, false] },
  'output-at-microphone': { place: ['room', 'unknown'] },
  'output-distance-unknown': {},
  'output-distances-differ': {},
  'output-not-calibrated': {},
  'output-drives-unknown': {},
  'output-capture-left-out': {},
  'output-capture-too-short': {},
  'output-no-captures': {},
  'output-bursts-missed': { bursts: [1, 3] },
  'output-clock': {},
  'output-steps-strange': { factor: [1.97] },
  'output-clipped': {},
  'output-not-recorded': {},
  'output-correction-short': {},
  'output-louder-passes': {},
  'output-harmonic-in-noise': {},
  'output-noise-unknown': {},
  'output-room-null': { db: [12.3] },
  'calibration-none': {},
  'calibrated-by-tone': {},
  'calibrated-as-given': {},
  'calibrated-by-sensitivity': {},
  'calibration-from-figures': {},
  'calibration-unlikely': {},
  'calibration-drift': {},
  'calibration-brief': {},
  'calibration-noisy': {},
  'calibration-impure': { percent: [2.34] },
  'calibration-other-tone': {},
  'calibration-frequency-off': { percent: [1.25, -1.25] },
  'calibration-reference-unknown': {},
  'exposure-source': { dba: ['stated', 'sweep', null], dbc: ['sweep', null], run: ['deep +3', null] },
  'exposure-not-calibrated': {},
  'exposure-unknown': {},
  'exposure-over': {},
  'exposure-at-microphone': {},
  'exposure-sweeps-only': {},
  'exposure-low-bass': {},
  'exposure-rules': {},

  // ---- headlines
  'bad-captures': { bad: [1, 3], judged: [0, 1, 3, 8] },
  'mixed-procedures': { procedures: [2] },
  'range-in-window': {
    ...{ leftOut: ['nothing', 'room', 'masked'], '#name': ['deep', 'flat', 'sealed'], more: [0, 2] },
    ...{ '#lowHz': [18.2, 20.1, 31], '#highHz': [104.5, 99, 120] },
  },
  'depth-points': {
    ...{ '#name': ['deep', 'flat', 'sealed'], '#lowHz': [18.2, 20.1, 31], more: [0, 2], furtherHz: [14.3, null] },
    ...{ furtherDb: [10], '#dipHz': [36.1, 52.3] },
  },
  'range-in-noise': { '#name': ['deep', 'flat'] },
  'range-ends-at-dips': LISTED_HZ,
  'limits-none': { '#name': ['deep', 'flat'], driveDb: [-3, 0, 12] },
  'common-loss': { byDb: [2.4] },
  'limits-unknown': {
    why: ['no ladder', 'few rungs', 'untrusted', 'breaks', 'noise unknown', 'stuck', 'bottom', 'not shown'],
  },
  'limits-bottom': LIMITS,
  'limits-parts': { ...LIMITS, spanLowHz: [11.22], spanHighHz: [355.4] },
  'limits-everywhere': LIMITS,
  loudest: { ...LISTED_HZ, '#levelDb': [88.42, 96.4, 101], '#atLeast': [true, false, true] },
  'loudest-burst': { fromM: [2, null], toM: [1] },
  'switch-shelf': SWITCH,
  'switch-level': SWITCH as { hz: number[]; byDb: number[] },
  'switch-low-pass': SWITCH,
  'switch-other': SWITCH,
  'switch-none': SWITCH,
  'switch-unknown': SWITCH,
  'thd-clean': { percent: [3, 0.5], lowHz: [20, 100], highHz: [100] },
  'shape-kept': { '#name': ['deep', 'flat'] },
  'shape-loses-bottom': { byDb: [4.2] },
  'shape-gains-bottom': { byDb: [4.2] },
  'shape-bends': {},
  'room-dips': { ...LISTED_HZ, count: [1, 3, 8], leftOut: [true, false] },
  'nothing-usable': {},
  'nothing-analysed': { curves: [0, 1, 3], recordings: [0, 1, 3] },

  // ---- verdict
  'range-dips-counted': {},
  'range-runner-up': {},
  'range-needs': {},
  'depth-further': { '#lowHz': [18.2, 14.3], '#downDb': [6, 10], '#dipHz': [36.1, 52.3] },
  'depth-not-reached': {},
  'roll-off': { order: [2, 3, 4], q: [0.71, null], alignment: ['Butterworth', ''] },
  'roll-off-slope': { lowHz: [14.2, null], highHz: [31, null] },
  'switch-values': { ...LISTED_HZ, '#byDb': [5.1, -4, 0], slopeDbPerOctave: [-6.5, null], asymptoteDb: [6, null] },
  'limit-regions': { ...REGIONS, '#ceilingDb': [98.2, 101, 103.4], '#sharp': [true, false, true] },
  'others-follow': { following: [1, 5], others: [1, 5] },
  'others-lose': { losing: [1, 5], byDb: [0.8] },
  'others-unknown': {},
  'first-loss': { ...LISTED_HZ, '#lossDb': [1, 3, 6], '#driveDb': [-12, 0, 4.5] },
  'no-loss': {},
  'thd-passes': {
    ...{ ...LISTED_HZ, '#percent': [3, 10, 0.3], '#driveDb': [-12, 0, 4.5] },
    ...{ '#levelDb': [96.4, null, 101], '#atMost': [true, false, false] },
  },
  'thd-highest': { order: [2, 3, null], percent: [12.3, 0.45] },
  'thd-unknown': {},
  'thd-nowhere-clean': { percent: [3, 0.5] },
  'burst-levels': {
    ...{ ...LISTED_HZ, '#levelDb': [88.42, 96.4, 101], '#atLeast': [true, false, true] },
    ...{ fromM: [1.5, null], toM: [1] },
  },
  'burst-stops': { centres: [1, 11], '#stop': ['distortion', 'compression', 'noise'], '#count': [1, 4, 6] },
  'bursts-none': {},
  'shape-unknown': {},
  'room-features': { '#dip': [34.1, 52.3, 71], '#peak': [44, 63] },
  'unit-features': { '#dip': [34.1, 52.3, 71], '#peak': [44, 63] },
  'features-unexplained': { '#dip': [34.1, 52.3, 71], '#peak': [44, 63] },
  'steps-as-commanded': {},
  'steps-differ': {},
  'levels-trusted': {
    trusted: [80],
    of: [104],
    snrFrom: ['noise run', 'noise in the file', 'scatter between rungs', 'unknown'],
  },
  'captures-counted': { good: [1, 7], judged: [1, 8], '#doubtful': ['deep +3', 'deep +6'], more: [0, 2] },
  'captures-bad-named': { '#bad': ['deep +3', 'deep +6'], more: [0, 2] },
  ears: { levelDba: [94, 60], permittedSeconds: [0, 45, 3600, 5400, 100_000], source: ['NIOSH 98-126'] },
  'ears-over': { measuredSeconds: [5400] },
};

/** Places that a phrase may speak of: few and many. */
export const PLACES_SAID: Place[] = [
  {
    bandsHz: [10],
    rangesHz: [
      [18.25, 104.5],
      [20, 31.5],
    ],
    driveDb: [-3],
    lines: [3],
    reason: 'Deep +3: the level never falls.',
  },
  {
    bandsHz: [10, 15.849, 19.953, 25.119, 39.811, 63.096],
    rangesHz: [
      [18.25, 104.5],
      [31.5, 31.5],
      [40, 50],
    ],
    driveDb: [-3, 0, 4.5],
    lines: [3, 9, 17],
  },
];

const MOST = 300;

const made = new Map<AnyCode, Record<string, unknown>[]>();

/** All values of a code that are worth saying: every choice of one with every choice of the others, up to some hundred. */
export function valuesFor(code: AnyCode): Record<string, unknown>[] {
  const values = made.get(code) ?? makeValues(code);
  made.set(code, values);
  return values;
}

function makeValues(code: AnyCode): Record<string, unknown>[] {
  const own = samples[code] as Record<string, readonly unknown[]>;
  const lists = Object.entries(own).filter(([key]) => key.startsWith('#'));
  const common: Record<string, readonly unknown[]> = COMMON;
  const singles = { ...common, ...Object.fromEntries(Object.entries(own).filter(([key]) => !key.startsWith('#'))) };
  const longest = Math.max(0, ...lists.map(([, all]) => all.length));
  const lengths = longest === 0 ? [0] : [...new Set([1, Math.min(2, longest), longest])];
  return lengths.flatMap((length) =>
    Array.from({ length: MOST }, (_, k) => ({
      ...Object.fromEntries(
        Object.entries(singles).map(([key, choices], i) => [
          key,
          choices[Math.floor(k / 3 ** (i % 5)) % choices.length],
        ]),
      ),
      ...Object.fromEntries(
        lists.flatMap(([key, all]) => all.slice(0, length).map((value, n) => [`${key.slice(1)}${n + 1}`, value])),
      ),
    })),
  );
}

export type AnyCode = keyof Catalogue;
export const ALL_CODES = Object.keys(samples) as AnyCode[];
