import type { RefusalCode, RefusalValues } from '../../lib/words/makeRefusal';
import { asNumbered } from '../../lib/words/numbered';

/** Values that a refusal may have been made from, and the field that it names. */
type Samples<C extends RefusalCode> = { field?: string; values: readonly RefusalValues<C>[] };

const of = <V>(values: readonly V[], field?: string) => ({ values, field });
const none = (field?: string) => of([{}], field);
const label = 'deep +3';
const [a, b] = ['deep 0', 'flat 0'];
/** What stands where a number should. */
const ODD = [-3, 0.0125, 44_100.5, 0, Number.NaN, Number.POSITIVE_INFINITY, null, 'loud'];

export const samples: { [C in RefusalCode]: Samples<C> } = {
  // ---- analyses
  'bad-height': of(
    ODD.map((height) => ({ label, height })),
    'heightDb',
  ),
  'bad-reference': of([{ label, reference: 'top' }]),
  'too-few-points': of([
    ...[1, 4].map((points) => ({ label, points, fewest: 8, lowHz: 10.123, highHz: 30.456 })),
    { label, points: 1 },
    { label, points: 0, ...asNumbered({ why: ['level-missing'], count: [2], of: [3], line: [1] }) },
  ]),
  'no-roll-off': of([{ label, lowHz: 10.123, highHz: 30.456, cornerHz: 2.3456 }]),
  'missing-drive': of([{ label }], 'about.driveDb'),
  'too-few-rungs': of([{ rungs: 0 }, { rungs: 1 }]),
  'too-many-rungs': of([{ rungs: 2500, most: 300 }]),
  'mixed-devices': of([
    { of: 'ladder', a, b, ofA: 'Unit A', ofB: null },
    { of: 'distortion', a, b, ofA: null, ofB: 'Unit B' },
  ]),
  'mixed-settings': of([{ of: 'ladder', a, b, ofA: 'deep', ofB: 'flat' }]),
  'mixed-scales': of([{ a, b, ofA: 'spl', ofB: 'relative' }]),
  'mixed-weightings': of([{ a, b, ofA: 'A', ofB: 'Z' }]),
  'weighted-curves': of([{ label, weighting: 'A' }]),
  'no-harmonics': of([{ why: 'no pair' }, { why: 'none in common' }]),
  'no-whole-band': of([
    { of: 'ladder', ...asNumbered({ lowHz: [20], highHz: [21.123] }) },
    { of: 'ladder', ...asNumbered({ lowHz: [100], highHz: [50] }) },
    { of: 'distortion', ...asNumbered({ lowHz: [20, 30.5], highHz: [21, 31.25] }) },
  ]),
  'bad-percent': of(
    ODD.map((value) => ({ value })),
    'percents',
  ),
  'bad-onset': of(
    ODD.map((value) => ({ value })),
    'onsetsDb',
  ),
  'bad-frequency': of(
    ODD.map((value) => ({ value })),
    'atHz',
  ),

  // ---- model
  'not-measurements': of([
    { place: 'msg.payload[1]', found: '"x"', kind: null },
    { place: 'msg.payload[1]', found: null, kind: null },
    { place: 'msg.payload[1]', found: null, kind: '"photo"' },
  ]),
  'bad-measurement': of([{ label, found: 'missing', needed: 'text' }], 'role'),
  'not-findings': of([{ found: '"x"' }]),
  'bad-findings': of([{ found: '"x"', needed: 'a plain array' }], 'ladder'),
  'unequal-findings': of(
    (['rungs', 'bands'] as const).map((of) => ({ length: 1, wanted: 3, of })),
    'ladder[0].levelDb',
  ),

  // ---- calibration
  'calibration-sensitivity': of(
    (['sensitivityMvPerPa', 'fullScaleV', 'gainDb'] as const).flatMap((known) =>
      ODD.map((value) => ({ known, value })),
    ),
  ),
  'calibration-level': of(ODD.map((level) => ({ level }))),
  'already-calibrated': of([{ label }]),
  'calibration-tone': of([...ODD.map((level) => ({ level })), ...ODD.map((hz) => ({ hz, rateHz: 44_100 }))]),
  'calibration-no-tone': of([null, 250.1234].map((insteadHz) => ({ label, hz: 1000, insteadHz }))),
  'calibration-frequency': of([{ label, hz: 1000, toneHz: 250.1234 }]),
  'calibration-unsteady': of([{ label, hz: 1000 }]),
  'calibration-clipped': of([1, 12].map((samples) => ({ label, samples }))),
  distance: of(
    ODD.map((value) => ({ value })),
    'toM',
  ),

  // ---- captures
  'capture-too-long': of([{ label, seconds: 1234.56 }]),
  'capture-too-short': of([0, 1, 12].map((samples) => ({ label, samples }))),
  'no-sweep-found': of([{ label }]),
  'wrong-sweep': of([{ label }]),
  'several-sweeps': of([{ label }]),
  'nothing-usable': none(),
  'stimulus-silent': of([{ label }]),
  'stimulus-too-long': of([{ label, seconds: 1234.56, mostS: 600 }]),
  'bad-noise': of([{ label, rateHz: 8000 }]),
  'takes-no-band': of([{ a, b, snrDb: 10 }]),
  'no-captures': none(),
  'capture-rate': of([{ rateHz: 500, hz: 158.49 }]),
  'bursts-not-found': of([0, 1, 5].map((found) => ({ found, of: 60 }))),
  'bad-limits': of([
    { why: 'none' },
    ...ODD.map((fromOrder) => ({ why: 'orders', fromOrder, toOrder: null }) as const),
    ...ODD.map((limitDb) => ({ why: 'level', limitDb }) as const),
  ]),

  // ---- what more than one room refuses
  'bad-option': of(
    [
      { wanted: 'recording' },
      ...(['whole-hz', 'channel-count', 'sound-format', 'orders', 'hz-above-1', 'points-per-octave'] as const).map(
        (wanted) => ({ wanted, value: -1.5 }),
      ),
      ...(['channel', 'full-scale', 'curve', 'db-above-0', 'hz-above-0'] as const).flatMap((wanted) =>
        ODD.map((value) => ({ wanted, value })),
      ),
      { wanted: 'ladder-step', value: 'guessed' },
      ...(
        ['text', 'decimal', 'frequency-unit', 'level-unit', 'curve-role', 'sound-role', 'scale', 'delimiter'] as const
      ).map((wanted) => ({ wanted, value: 'odd' })),
      ...(['picture-format', 'picture-width', 'picture-height', 'theme'] as const).map((wanted) => ({
        wanted,
        value: 'odd',
      })),
      ...(['most-points', 'step-db', 'columns', 'column'] as const).map((wanted) => ({ wanted, value: 1.5 })),
    ],
    'harmonics',
  ),
  'no-such-channel': of(
    [1, 4].flatMap((channels) => [0, 7, 1.5, null].map((channel) => ({ label, channel, channels }))),
  ),
  'no-curves': of([{ to: 'average' }, { to: 'find features' }]),
  'worker-failed': of([{ task: 'deconvolve', why: 'worker exited' }]),
  'nothing-to-draw': of([
    { kind: null, view: null, setting: null },
    { kind: null, view: null, setting: 'deep' },
    { kind: 'ladder', view: null, setting: null },
    { kind: 'distortion', view: 'clean', setting: 'deep' },
  ]),

  // ---- curves
  'empty-curve': of([{ label }]),
  'frequency-not-rising': of([0, 19.5, -20].map((hz) => ({ label, index: 3, hz }))),
  'bad-interval': of(
    ODD.map((low) => ({ low, high: 45.5 })),
    'rangeHz',
  ),
  'no-common-range': of([{ label1: a, lowHz1: 10.25, highHz1: 50, label2: b, lowHz2: 100, highHz2: 250.5 }]),
  'all-masked': of([{ label }]),
  'bad-fraction': of(
    ODD.map((fraction) => ({ label, fraction })),
    'smoothing',
  ),
  'bad-method': of([{ method: 'median' }]),
  'mixed-curves': of(
    (['average', 'attach noise', 'compare takes', 'measure distortion'] as const).flatMap((to) =>
      (['scale', 'role', 'order', 'microphone correction'] as const).map((differ) => ({ a, b, differ, to })),
    ),
  ),
  'no-phase': of([{ label }]),
  'not-a-level': of(
    (['harmonic', 'correction'] as const).flatMap((role) =>
      (['weight', 'calibrate'] as const).map((to) => ({ label, role, to })),
    ),
  ),
  'already-weighted': of([{ label, weighting: 'A' }]),
  'already-corrected': of([{ label, correction: 'microphone' }]),
  'weighted-curve': of([{ label, weighting: 'C' }]),

  // ---- rig
  'unknown-setting': of([
    { setting: 'loud', ...asNumbered({ known: ['deep'] }) },
    { setting: 'loud', ...asNumbered({ known: ['deep', 'flat'] }) },
  ]),
  'recorder-option': of(
    (['sampleRateHz', 'clockPpm', 'latencyMs', 'startS', 'bits', 'railDbfs', 'channels'] as const).flatMap((option) =>
      ODD.map((value) => ({ option, value })),
    ),
  ),
  'rig-too-long': of([{ seconds: 3601.5, mostS: 450 }]),
  'bad-grid': of(ODD.map((startHz) => ({ startHz, endHz: 20, density: 0.5 }))),

  // ---- room
  'room-dimension': of(
    ODD.map((value) => ({ value })),
    'lengthM',
  ),
  'room-decay': of(
    ODD.map((value) => ({ value })),
    'decayS',
  ),
  'room-temperature': of(ODD.map((value) => ({ value }))),
  'position-missing': none('microphone'),
  'position-malformed': none('source'),
  'position-outside': of(
    [0, 1, 2].map((axis) => ({ axis, atM: -0.125, sideM: 4.5 })),
    'source',
  ),
  'positions-coincide': of([{ apartM: 0.05, leastM: 0.1 }]),
  'frequency-not-positive': of(
    ODD.flatMap((value) => [null, 3].map((index) => ({ value, index }))),
    'frequencyHz',
  ),
  'too-many-modes': of([
    { toHz: 20_000, modes: 1_234_567 },
    { frequencies: 1, terms: 3.4e9 },
    { frequencies: 1000, terms: 3.4e9 },
  ]),

  // ---- signal
  'exposure-level': of(ODD.map((level) => ({ level }))),
  'exposure-time': of(ODD.map((seconds) => ({ seconds }))),
  'unequal-spectra': of([{ a: 3, b: 5 }]),
  'fft-length': of(ODD.flatMap((length) => [null, 1, 9].map((samples) => ({ length, samples })))),
  'minimum-phase-grid': of([{ levels: 1 }, { levels: 100 }]),
  'biquad-kind': of([{ kind: 'bell' }]),
  'biquad-frequency': of(ODD.map((hz) => ({ hz, rateHz: 44_100 }))),
  'biquad-quality': of(ODD.map((q) => ({ q }))),
  'biquad-gain': of(ODD.map((gainDb) => ({ gainDb }))),
  'weighting-frequency': of(ODD.map((hz) => ({ hz }))),
  'weighting-kind': of([{ kind: 'B' }, { kind: null }]),
  'decimate-rate': of(
    ODD.map((rateHz) => ({ rateHz })),
    'sampleRateHz',
  ),
  'decimate-band': of(
    ODD.map((bandHz) => ({ bandHz, rateHz: 44_100 })),
    'bandHz',
  ),
  'decimate-factor': of(ODD.map((factor) => ({ factor, rateHz: 44_100, bandHz: 500.5 }))),

  // ---- sweeps and bursts
  'sweep-rate': of(ODD.map((rateHz) => ({ rateHz }))),
  'sweep-range': of(ODD.map((startHz) => ({ startHz, endHz: 300.5, rateHz: 44_101 }))),
  'sweep-time': of([
    ...ODD.map((seconds) => ({ seconds, leastS: null, mostS: null })),
    { seconds: 0.01, leastS: 0.2345, mostS: 2789 },
  ]),
  'sweep-level': of(ODD.map((levelDbfs) => ({ levelDbfs }))),
  'burst-rate': of(
    ODD.map((rateHz) => ({ rateHz })),
    'sampleRateHz',
  ),
  'burst-range': of(ODD.map((fromHz) => ({ fromHz, toHz: 160.5 }))),
  'burst-level': of(ODD.map((stepDb) => ({ lowestDbfs: -30.5, highestDbfs: 3, stepDb }))),
  'burst-gap': of(
    ODD.map((seconds) => ({ seconds })),
    'gapSeconds',
  ),
  'burst-too-long': of([{ bursts: 1 }, { bursts: 123_456 }]),
  'not-bursts': of(
    (['silent', 'no-silence', 'too-short', 'unlike'] as const).flatMap((why) =>
      [null, 1.2345].map((atS) => ({ label: atS === null ? 'sweep' : null, cycles: 6.5, why, atS })),
    ),
  ),

  // ---- WAV
  'bad-source': of([{ label }, { label, of: 'text' }]),
  // ---- texts
  empty: of([{ label }]),
  binary: of([
    { label, kind: 'zip' },
    { label, kind: null },
  ]),
  html: of([{ label }]),
  'no-lines': of([{ label }]),
  'one-column': of([
    { label, delimiter: null },
    { label, delimiter: ';' },
  ]),
  'header-only': of([{ label }]),
  'nothing-numeric': of([
    { label, delimiter: ';', why: 'rows' },
    { label, delimiter: null, why: 'columns' },
  ]),
  'no-level-column': of([{ label, ...asNumbered({ heading: ['Freq', 'Left'] }) }]),
  'column-not-found': of([
    { label, asked: 'Middle', kind: 'level', columns: 1, headingLine: null },
    { label, asked: 7, kind: 'phase', columns: 2, headingLine: 3, ...asNumbered({ heading: ['Freq', 'Left'] }) },
  ]),
  'level-out-of-range': of([{ label, levelDb: -300.5 }]),
  'too-many-points': of([{ label, most: 2 }]),
  'too-many-lines': of([{ label, most: 2 }]),
  'several-curves': of([{ label }]),
  'thousands-separators': of([{ label }]),
  'ambiguous-decimal': of([{ label }]),
  'bad-pattern': of([
    { pattern: '', why: 'empty' },
    { pattern: '{step}-{step}', why: 'twice', field: 'step' },
    { pattern: '{step}-{driveDb}', why: 'two drives' },
    { pattern: '{step', why: 'brace' },
    { pattern: '{x}', why: 'unknown', field: 'x', ...asNumbered({ known: ['step', 'device'] }) },
    { pattern: '{step}{device}', why: 'nothing between', field: 'step', next: 'device' },
  ]),
  'unknown-encoding': of([{ encoding: 'utf-42' }]),
  'contradictory-options': of([{ delimiter: ',' }, { label, column: 1 }]),

  'not-wav': of([
    { label, why: 'empty' },
    { label, why: 'opening' },
  ]),
  'wav-broken': of([
    { label, why: 'short-format', bytes: 1, leastBytes: 16 },
    { label, why: 'short-extensible', bytes: 18, leastBytes: 40 },
    ...(['no-channel', 'no-rate', 'no-format', 'no-data'] as const).map((why) => ({ label, why })),
  ]),
  'wav-unsupported': of([
    { label, why: 'channels', channels: 65_535, mostChannels: 256 },
    { label, why: 'bits', encoding: 'pcm', bits: 64 },
    { label, why: 'bits', encoding: 'float', bits: 16 },
    { label, why: 'sub-format', guid: '0123abcd' },
    { label, why: 'tag', tag: '0x0007', tagName: 'mu-law' },
    { label, why: 'tag', tag: '0x1234', tagName: null },
    { label, why: 'big-endian' },
  ]),
  'wav-empty': of([{ label }, { label: null }]),
  'wav-not-finite': of([{ label, channel: 2, atS: 0.5123456789 }]),
  'too-large': of([{ bytes: 2 ** 33 }, { label, mostMib: 256 }]),
  'over-full-scale': of([{ channel: 1, index: 3, sample: -1.0001 }]),
  'not-a-number': of(
    [
      { label, index: 3 },
      { label: null, index: 3 },
      { channel: 1, index: 3 },
    ],
    'levelDb',
  ),
  'unequal-columns': of(
    [
      { label, length: 1, wanted: 3 },
      { channel: 2, length: 1, wanted: 3 },
    ],
    'levelDb',
  ),
};

export const REFUSAL_CODES = Object.keys(samples) as RefusalCode[];
