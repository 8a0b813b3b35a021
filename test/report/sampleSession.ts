import type { Curve, Interval } from '../../lib/model/curve';
import type { BandFit, Conclusions, Findings, Ladder, RoomFeature } from '../../lib/model/findings';
import { makeCurve } from '../../lib/model/makeCurve';
import { bandAround, thirdOctaveCentres } from '../../lib/model/octaves';
import type { ReportInput } from '../../lib/report/buildReport';
import { said } from '../said';

export interface SampleOptions {
  device?: string;
  settings?: string[];
  rungs?: number;
  points?: number;
  scale?: Curve['scale'];
}

const NOISE_DB = 52;

/** A session with findings made by rule, not by analysis: what the report says can be told beforehand. */
export function sampleInput(options: SampleOptions = {}): ReportInput {
  const { device = 'Sample unit', settings = ['deep', 'tight'], rungs = 9 } = options;
  const curves = settings.flatMap((setting, s) =>
    Array.from({ length: rungs }, (_, k) => sampleCurve(device, setting, s, k, options)),
  );
  const features = sampleFeatures();
  const masksHz = features
    .filter(({ kind, belongsTo }) => kind === 'dip' && belongsTo === 'room')
    .map(({ maskHz }) => maskHz);
  const findings: Findings = {
    bandFit: curves.map((curve, k) => sampleFit(curve, k % rungs, masksHz)),
    rollOff: settings.map((setting, s) => ({
      curve: curves[s * rungs].id,
      label: `${device} ${setting}`,
      about: { device, setting, driveDb: -24 },
      caveats: [],
      f0Hz: s === 0 ? 18.93 : 31.26,
      q: s === 0 ? null : 0.66,
      order: s === 0 ? 4 : 2,
      slopeDbPerOctave: s === 0 ? 24 : 12,
      rangeHz: [8, 120] as [number, number],
      rmsErrorDb: 0.44,
      alignment: s === 0 ? 'Butterworth' : 'Bessel',
    })),
    ladder: settings.map((setting, s) => sampleLadder(device, setting, s, curves.slice(s * rungs, (s + 1) * rungs))),
    roomFeatures: features,
    roomPrediction: samplePrediction(),
    settingDifference: settings.slice(1).map((setting) => ({
      device,
      a: settings[0],
      b: setting,
      curve: differenceCurve(),
      kind: 'shelf' as const,
      matchedBy: 'drive' as const,
      runs: { a: { curve: curves[0].id, driveDb: -24 }, b: { curve: curves[rungs]?.id ?? 'b', driveDb: -24 } },
      levelDb: 0,
      hingeHz: 27.43,
      asymptoteDb: 8.02,
      slopeDbPerOctave: -5.6,
      at: [
        { frequencyHz: 10, differenceDb: 7.12, trusted: false },
        { frequencyHz: 16, differenceDb: 6.04, trusted: true },
        { frequencyHz: 20, differenceDb: 5.13, trusted: true },
        { frequencyHz: 31.5, differenceDb: 3.06, trusted: true },
      ],
      caveats: [],
    })),
    notes: [
      {
        ...said('2 duplicated frequencies were power-averaged.', 'remark'),
        where: { file: 'run_03.txt', lines: [14, 15] },
      },
    ],
    conclusions: sampleConclusions(device, settings, curves, rungs),
  };
  return { topic: device, measurements: curves, findings };
}

function grid(points: number): number[] {
  return Array.from({ length: points }, (_, i) => 6 * (300 / 6) ** (i / (points - 1)));
}

/** A fourth-order high-pass with three dips of the room, limited softly below 25 Hz, over a flat noise floor. */
function sampleCurve(device: string, setting: string, s: number, k: number, options: SampleOptions): Curve {
  const frequencyHz = grid(options.points ?? 300);
  const corner = s === 0 ? 18 : 27;
  const levelDb = frequencyHz.map((hz) => {
    const highPass = -10 * Math.log10(1 + (corner / hz) ** 8);
    const dips = DIPS_HZ.reduce((sum, at) => sum - 9 * Math.exp(-((Math.log2(hz / at) / 0.06) ** 2)), 0);
    const ceiling = 92 + 12 * Math.log2(Math.max(hz, 10) / 20);
    const wanted = 74 + 3 * k + highPass;
    const limited = wanted - Math.max(0, (wanted - ceiling) * 0.9);
    const ripple = 0.8 * Math.sin(5 * Math.log2(hz));
    return 10 * Math.log10(10 ** ((limited + dips + ripple) / 10) + 10 ** ((NOISE_DB - 10 * Math.log2(hz / 20)) / 10));
  });
  const driveDb = -24 + 3 * k;
  return makeCurve({
    frequencyHz,
    levelDb,
    label: `${device}_${setting}_${k}`,
    scale: options.scale ?? 'spl',
    about: { device, setting, driveDb, procedure: 'fixed spot', position: 'front wall', distanceM: 2 },
    steps: [
      {
        did: 'import',
        with: {
          name: `${setting}_${k}.txt`,
          delimiter: 'tab',
          decimal: '.',
          columns: { frequency: 1, level: 2 },
          frequencyUnit: 'Hz',
          levelUnit: 'dB',
        },
      },
      { did: 'microphone correction', with: { correction: 'microphone.txt', id: 'a1b2' } },
    ],
  });
}

const DIPS_HZ = [34.1, 52.3, 71.4];

function sampleFeatures(): RoomFeature[] {
  const feature = (frequencyHz: number, kind: 'dip' | 'peak', more: Partial<RoomFeature>): RoomFeature => ({
    frequencyHz,
    kind,
    prominenceDb: 6.4,
    depthDb: 7.3,
    widthOctaves: 0.14,
    maskHz: [frequencyHz / 1.07, frequencyHz * 1.07],
    cause: { type: 'interference', detail: 'modes 1-0-0 and 0-1-0', predictedHz: frequencyHz + 0.4, mismatchHz: 0.4 },
    belongsTo: 'room',
    confidence: 0.8,
    seenIn: 18,
    of: 18,
    caveats: [],
    ...more,
  });
  return [
    ...DIPS_HZ.map((hz) => feature(hz, 'dip', {})),
    feature(43.7, 'peak', { cause: { type: 'mode', detail: '0-1-0', predictedHz: 43.2, mismatchHz: -0.5 } }),
    feature(118, 'dip', { cause: { type: 'unexplained' }, belongsTo: 'unknown', confidence: 0 }),
  ];
}

function sampleFit(curve: Curve, k: number, masksHz: Interval[]): BandFit {
  const lowHz = 18.24 + 1.5 * Math.max(0, k - 3);
  const floorDb = 70 + 3 * k;
  return {
    curve: curve.id,
    label: curve.label,
    about: curve.about,
    caveats: k === 0 ? [said('Below 16 Hz the level lies less than 10 dB above the noise.')] : [],
    heightDb: 5,
    masksHz,
    lowHz,
    highHz: 104.3,
    octaves: Math.log2(104.3 / lowHz),
    floorDb,
    ceilingDb: floorDb + 5,
    withoutMasks: { lowHz: 36.2, highHz: 104.3, octaves: Math.log2(104.3 / 36.2), floorDb, ceilingDb: floorDb + 5 },
    referenceDb: 74.2 + 3 * k,
    points: [
      { downDb: 3, lowHz: 17.63, highHz: 152.4 },
      { downDb: 6, lowHz: 15.42, highHz: null },
      { downDb: 10, lowHz: k === 0 ? null : 13.21, highHz: null },
    ],
  };
}

function sampleLadder(device: string, setting: string, s: number, curves: Curve[]): Ladder {
  const bandsHz = thirdOctaveCentres(10, 220);
  const limited = (band: number): boolean => bandsHz[band] < 26;
  const onsetAt = (band: number): number => 12.3 + 1.5 * band + s;
  const rungs = curves.map((curve) => ({ id: curve.id, label: curve.label, driveDb: curve.about.driveDb as number }));
  const drive = (k: number): number => rungs[k].driveDb - rungs[0].driveDb;
  const cells = <T>(cell: (k: number, band: number) => T): T[][] =>
    rungs.map((_, k) => bandsHz.map((_, band) => cell(k, band)));
  const loss = (k: number, band: number): number =>
    limited(band) ? Math.max(0, (drive(k) - onsetAt(band) + 1.2) * 0.85) : 0.08 * Math.sin(k + band);
  const trusted = cells((k, band) => k >= 2 - Math.min(2, Math.floor(band / 2)));
  return {
    device,
    setting,
    scale: 'spl',
    rungs,
    bandsHz,
    levelDb: cells((k, band) => 60 + 2.2 * band + drive(k) - loss(k, band)),
    compressionDb: cells((k, band) => (trusted[k][band] ? loss(k, band) : null)),
    snrDb: cells((k, band) => 3 + 4 * band + drive(k)),
    trusted,
    referenceRung: bandsHz.map((_, band) => 2 - Math.min(2, Math.floor(band / 2))),
    snrFrom: 'noise run',
    onset: [1, 3].map((compressionDb) => ({
      compressionDb,
      driveDb: bandsHz.map((_, band) =>
        limited(band) && rungs.length > 5 ? onsetAt(band) + compressionDb * 1.1 : null,
      ),
      outputDb: bandsHz.map((_, band) => (limited(band) && rungs.length > 5 ? 71.3 + 2.2 * band : null)),
    })),
    ceiling: { levelDb: bandsHz.map((_, band) => 76.4 + 2.2 * band), reached: bandsHz.map((_, band) => limited(band)) },
    step: { commandedDb: 3, measuredDb: s === 0 ? 2.912 : 3.004, uncertaintyDb: 0.021, differs: s === 0 },
    stepUsed: 'commanded',
    repeatScatterDb: 0.08,
    runGainDb: rungs.map(() => 0),
    breaks: [],
    commonLossDb: rungs.map(() => 0),
    regions:
      rungs.length < 3
        ? []
        : [
            {
              lowHz: bandAround(bandsHz[0], 3)[0],
              highHz: bandAround(bandsHz[3], 3)[1],
              onsetDriveDb: 12.31,
              onsetToDriveDb: 14.2,
              ceilingDb: 92.44,
              kind: 'limiter',
            },
          ],
    extent: rungs.length < 3 ? 'unknown' : 'bottom',
    caveats: [],
  };
}

function samplePrediction(): Findings['roomPrediction'] {
  const frequencyHz = grid(200).filter((hz) => hz > 10);
  return {
    room: 'sample room',
    frequencyHz,
    levelDb: frequencyHz.map((hz) => 8 - 3 * Math.log2(hz / 10) + 4 * Math.sin(7 * Math.log2(hz))),
    schroederHz: 141.6,
    modesBelowSchroeder: 34,
  };
}

function differenceCurve(): Curve {
  const frequencyHz = grid(200);
  return makeCurve({ frequencyHz, levelDb: frequencyHz.map((hz) => 8 / (1 + (hz / 27.43) ** 2)), label: 'difference' });
}

/** Conclusions as an analysis would draw them of this session; the first headline is doubted. */
function sampleConclusions(device: string, settings: string[], curves: Curve[], rungs: number): Conclusions {
  const headline = (code: string, text: string, figure: string, doubt?: string) => ({
    code,
    values: {},
    text,
    figure,
    ...(doubt && { doubt }),
  });
  return {
    settings: settings.map((setting, s) => ({
      device,
      setting,
      shown: {
        curve: curves[s * rungs + Math.min(1, rungs - 1)].id,
        label: curves[s * rungs].label,
        driveDb: -24 + 3 * Math.min(1, rungs - 1),
        why: 'equal drive',
      },
      extent: rungs < 3 ? 'unknown' : 'bottom',
      freeFromHz: null,
      onsets: rungs > 5 ? [{ compressionDb: 1, bandHz: 10, driveDb: 13.4 + s, levelDb: 71.3 }] : [],
      clean: [],
      passes: [],
      highestThd: null,
      shape: null,
    })),
    captures: { judged: 0, doubtful: [], bad: [] },
    headlines: [
      headline(
        'range-in-window',
        'It stays within 5\u00a0dB over 18.2\u2013104\u00a0Hz.',
        'fig-response',
        SAMPLE_DOUBT,
      ),
      headline(
        'limits-bottom',
        'It limits at the bottom: 8.91\u201322.4\u00a0Hz from \u221211.7\u00a0dB of drive.',
        'fig-ladder-1',
      ),
      headline('room-dips', '3 dips belong to the room, not to the unit: 34.1, 52.3 and 71.4\u00a0Hz.', 'fig-room'),
    ],
    details: [
      {
        code: 'range-runner-up',
        values: {},
        topic: 'range',
        text: 'Nearly as wide: 20\u2013110\u00a0Hz, 2.46 octaves.',
        figure: 'fig-response-1',
      },
    ],
  } as Conclusions;
}

/** Why the sample's first headline is doubted. */
export const SAMPLE_DOUBT = 'The lowest runs lie too near the noise.';
