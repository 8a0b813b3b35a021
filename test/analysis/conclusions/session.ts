import type { Caveat } from '../../../lib/model/caveat';
import type { About, Curve, Interval } from '../../../lib/model/curve';
import type {
  BandFit,
  CaptureQuality,
  Distortion,
  Ladder,
  MaximumOutput,
  RollOff,
  RoomFeature,
  SettingDifference,
} from '../../../lib/model/findings';
import { makeCurve } from '../../../lib/model/makeCurve';
import { bandAround, nominalHz, thirdOctaveCentres } from '../../../lib/model/octaves';
import { makeCaveat } from '../../../lib/words/makeCaveat';

/** Findings made by rule, so that what they come to can be told beforehand. */

export const DEVICE = 'Sample unit';
export const DRIVES = [-24, -21, -18, -15, -12, -9, -6, -3, 0];
export const BANDS_HZ = thirdOctaveCentres(14, 230);

export function run(setting: string | undefined, driveDb: number | undefined, more: Partial<About> = {}): Curve {
  const about = {
    device: DEVICE,
    ...(setting !== undefined && { setting }),
    ...(driveDb !== undefined && { driveDb }),
    ...more,
  };
  return makeCurve({
    frequencyHz: [10, 20, 40, 80, 160],
    levelDb: [60, 80, 84, 84, 84].map((db) => db + (driveDb ?? 0) + (setting?.length ?? 0)),
    label: `${setting ?? 'run'} ${driveDb ?? ''}`.trim(),
    scale: 'spl',
    about,
  });
}

export function runs(setting: string | undefined, drives: readonly (number | undefined)[] = DRIVES): Curve[] {
  return drives.map((driveDb) => run(setting, driveDb));
}

export interface LadderRule {
  /** Lost at a rung, by drive above the lowest and nominal centre. */
  lossDb?: (aboveDb: number, hz: number) => number;
  trusted?: (aboveDb: number, hz: number) => boolean;
}

/** A ladder of those runs: 84 dB in all bands at the lowest drive, less what is lost. */
export function ladderOf(curves: Curve[], rule: LadderRule = {}, more: Partial<Ladder> = {}): Ladder {
  const { lossDb = () => 0, trusted = () => true } = rule;
  const rungs = curves.map(({ id, label, about }) => ({ id, label, driveDb: about.driveDb ?? 0 }));
  const above = (k: number): number => rungs[k].driveDb - rungs[0].driveDb;
  const cells = <T>(cell: (aboveDb: number, hz: number) => T): T[][] =>
    rungs.map((_, k) => BANDS_HZ.map((hz) => cell(above(k), nominalHz(hz))));
  const [first] = curves;
  return {
    ...(first?.about.device !== undefined && { device: first.about.device }),
    ...(first?.about.setting !== undefined && { setting: first.about.setting }),
    scale: 'spl',
    rungs,
    bandsHz: BANDS_HZ,
    levelDb: cells((db, hz) => 84 + db - lossDb(db, hz)),
    compressionDb: cells((db, hz) => (trusted(db, hz) ? lossDb(db, hz) : null)),
    snrDb: cells((db) => 30 + db),
    trusted: cells(trusted),
    referenceRung: BANDS_HZ.map(() => 0),
    snrFrom: 'noise run',
    onset: [1, 3].map((compressionDb) => ({
      compressionDb,
      driveDb: BANDS_HZ.map(() => null),
      outputDb: BANDS_HZ.map(() => null),
    })),
    ceiling: {
      levelDb: BANDS_HZ.map((_, band) =>
        rungs.length > 0
          ? 84 + above(rungs.length - 1) - lossDb(above(rungs.length - 1), nominalHz(BANDS_HZ[band]))
          : null,
      ),
      reached: BANDS_HZ.map(() => false),
    },
    step: { commandedDb: 3, measuredDb: 3.004, uncertaintyDb: 0.021, differs: false },
    stepUsed: 'commanded',
    repeatScatterDb: 0.08,
    runGainDb: rungs.map(() => 0),
    breaks: [],
    commonLossDb: rungs.map(() => 0),
    regions: [],
    extent: 'none',
    caveats: [],
    ...more,
  };
}

/** A limiter that holds the bottom, 16 and 20 Hz, from 12 dB above the lowest run on. */
export function limitedBottom(curves: Curve[], more: Partial<Ladder> = {}): Ladder {
  const isHeld = (hz: number): boolean => hz < 22;
  const ladder = ladderOf(curves, { lossDb: (db, hz) => (isHeld(hz) ? Math.max(0, db - 12) : 0) });
  return {
    ...ladder,
    ceiling: { ...ladder.ceiling, reached: BANDS_HZ.map((hz) => isHeld(hz)) },
    onset: [1, 3].map((compressionDb) => ({
      compressionDb,
      driveDb: BANDS_HZ.map((hz) => (isHeld(hz) ? 12 + compressionDb : null)),
      outputDb: BANDS_HZ.map((hz) => (isHeld(hz) ? 96 : null)),
    })),
    regions: [
      { lowHz: 14.1, highHz: 22.4, onsetDriveDb: 12.3, onsetToDriveDb: 14.1, ceilingDb: 96.04, kind: 'limiter' },
    ],
    extent: 'bottom',
    ...more,
  };
}

export function bandFitOf(curve: Curve, more: Partial<BandFit> = {}): BandFit {
  const range = { lowHz: 18.24, highHz: 104.3, octaves: 2.52, floorDb: 80, ceilingDb: 85 };
  return {
    curve: curve.id,
    label: curve.label,
    about: curve.about,
    caveats: [],
    heightDb: 5,
    masksHz: [],
    ...range,
    withoutMasks: range,
    referenceDb: 83.22,
    points: [
      { downDb: 3, lowHz: 17.63, highHz: 152 },
      { downDb: 6, lowHz: 15.42, highHz: null },
      { downDb: 10, lowHz: 13.21, highHz: null },
    ],
    ...more,
  };
}

export function rollOff(curve: Curve, more: Partial<RollOff> = {}): RollOff {
  return {
    curve: curve.id,
    label: curve.label,
    about: curve.about,
    caveats: [],
    f0Hz: 18.93,
    q: null,
    order: 4,
    slopeDbPerOctave: 24,
    rangeHz: [8, 120],
    rmsErrorDb: 0.44,
    alignment: 'Butterworth',
    ...more,
  };
}

export function feature(frequencyHz: number, more: Partial<RoomFeature> = {}): RoomFeature {
  return {
    frequencyHz,
    kind: 'dip',
    prominenceDb: 6,
    depthDb: 7,
    widthOctaves: 0.1,
    maskHz: [frequencyHz / 1.07, frequencyHz * 1.07],
    cause: { type: 'mode' },
    belongsTo: 'room',
    confidence: 0.9,
    seenIn: 9,
    of: 9,
    caveats: [],
    ...more,
  };
}

export function difference(more: Partial<SettingDifference> = {}): SettingDifference {
  return {
    device: DEVICE,
    a: 'deep',
    b: 'tight',
    matchedBy: 'drive',
    runs: { a: { curve: run('deep', 0).id, driveDb: -24 }, b: { curve: run('tight', 0).id, driveDb: -24 } },
    curve: run('deep', 0),
    kind: 'shelf',
    levelDb: 0,
    hingeHz: 27.43,
    asymptoteDb: 8.02,
    slopeDbPerOctave: -5.6,
    at: [
      { frequencyHz: 10, differenceDb: 7.12, trusted: false },
      { frequencyHz: 20, differenceDb: 5.13, trusted: true },
      { frequencyHz: 31.5, differenceDb: 3.06, trusted: true },
    ],
    caveats: [],
    ...more,
  };
}

/** THD that grows by 3 dB a step and falls with frequency: 3 % is passed at the bottom first. */
export function distortionOf(curves: Curve[], more: Partial<Distortion> = {}): Distortion {
  const rungs = curves.map(({ id, label, about }) => ({ curve: id, label, driveDb: about.driveDb ?? 0 }));
  const above = (k: number): number => rungs[k].driveDb - rungs[0].driveDb;
  const thd = (k: number, band: number): number => 0.3 * 10 ** (above(k) / 20) * (20 / BANDS_HZ[band]);
  const cells = <T>(cell: (k: number, band: number) => T): T[][] =>
    rungs.map((_, k) => BANDS_HZ.map((_hz, band) => cell(k, band)));
  const first = BANDS_HZ.map((_, band) => rungs.findIndex((_rung, k) => thd(k, band) >= 3));
  const last = rungs.length - 1;
  return {
    device: curves[0]?.about.device,
    setting: curves[0]?.about.setting,
    rungs,
    bandsHz: BANDS_HZ,
    thdToOrder: 5,
    thdPercent: cells(thd),
    harmonics: [2, 3].map((order) => ({
      order,
      levelDb: cells((k, band) => 20 * Math.log10(thd(k, band) / 100) - (order === 2 ? 8 : 1)),
    })),
    noisePercent: cells(() => 0.05),
    trusted: cells(() => true),
    levelDb: cells((k) => 84 + above(k)),
    scale: 'spl',
    passes: [
      {
        percent: 3,
        driveDb: first.map((k) => (k < 0 ? null : above(k))),
        levelDb: first.map((k) => 84 + above(k < 0 ? last : k)),
        reached: first.map((k) => k >= 0),
      },
    ],
    caveats: [],
    ...more,
  };
}

export function outputOf(setting: string | undefined, more: Partial<MaximumOutput> = {}): MaximumOutput {
  const measuredAtM = more.measuredAtM ?? null;
  const isConverted = measuredAtM !== null;
  const centre = (hz: number, levelDb: number, stoppedBy: 'distortion' | 'schedule') => ({
    centreHz: BANDS_HZ.find((one) => nominalHz(one) === hz) as number,
    driveDb: -6,
    levelAtMicrophoneDb: isConverted ? levelDb - 20 * Math.log10(measuredAtM) : levelDb,
    peakAt1mDb: isConverted ? levelDb : null,
    rmsAt2mDb: isConverted ? levelDb - 9.03 : null,
    stoppedBy,
    bursts: [],
    trusted: true,
  });
  return {
    device: DEVICE,
    ...(setting !== undefined && { setting }),
    recordings: ['bursts'],
    limits: [],
    scale: 'spl',
    measuredAtM,
    assumption: {
      place: isConverted ? 'half space' : 'unknown',
      measuredAtM: isConverted ? [measuredAtM] : [],
      calibrated: true,
    },
    centres: [centre(20, 98.21, 'distortion'), centre(31.5, 104, 'distortion'), centre(63, 110.4, 'schedule')],
    averages: [],
    caveats: [],
    ...more,
  };
}

export function capture(
  label: string,
  verdict: CaptureQuality['verdict'],
  about: About = { device: DEVICE },
): CaptureQuality {
  return {
    recording: `recording ${label}`,
    label,
    about,
    verdict,
    clippedSamples: 0,
    clippedAtS: null,
    truncatedAtHz: null,
    missedBelowHz: null,
    humHz: [],
    peakDbfs: -12,
    snrDb: { frequencyHz: [], db: [] },
    clockPpm: null,
    clockUncertaintyPpm: null,
    warnings: [],
  };
}

export function nearNoise(severity: Caveat['severity'], rangesHz: Interval[]): Caveat {
  const values = { label: 'a run', snrDb: 10 };
  return makeCaveat('near-noise', severity, values, { rangesHz });
}

export function bandRange(fromHz: number, toHz: number): Interval {
  return [bandAround(fromHz, 3)[0], bandAround(toHz, 3)[1]];
}
