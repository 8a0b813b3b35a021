import type { Curve, Recording } from '../../lib/model/curve';
import type { CaptureQuality, Distortion, Exposure, MaximumOutput } from '../../lib/model/findings';
import { makeCurve } from '../../lib/model/makeCurve';
import { thirdOctaveCentres } from '../../lib/model/octaves';
import type { ReportInput } from '../../lib/report/buildReport';
import { uncoded } from '../uncoded';
import { type SampleOptions, sampleInput } from './sampleSession';

/** A session out of sweeps and bursts: that of {@link sampleInput} with what recordings add, made by rule. */
export function sampleSound(options: SampleOptions = {}): ReportInput {
  const { device = 'Sample unit', settings = ['deep', 'tight'], scale = 'spl' } = options;
  const input = sampleInput(options);
  const responses = input.measurements
    .filter((one): one is Curve => one.kind === 'curve')
    .map((curve, k) => outOfCapture(curve, k === BAD));
  const rungs = responses.length / settings.length;
  return {
    ...input,
    measurements: [
      ...responses,
      ...responses.flatMap((curve) => [2, 3].map((order) => sampleHarmonic(curve, order))),
      ...responses.map((curve) => sampleRecording(curve)),
    ],
    findings: {
      ...input.findings,
      distortion: settings.map((setting, s) =>
        sampleDistortion(device, setting, responses.slice(s * rungs, (s + 1) * rungs), scale),
      ),
      maximumOutput: settings.map((setting, s) => sampleOutput(device, setting, s, scale)),
      captureQuality: responses.map((curve, k) => sampleQuality(curve, k)),
      exposure: sampleExposure(),
    },
  };
}

/** Which capture is bad: one in the middle of the first setting. */
export const BAD = 4;
/** Which is doubtful. */
export const DOUBTFUL = 1;

export const CLIPPED = '412 samples lie at the rail, from 6.20 s on: lower the input gain and record again.';

function captureId(curve: Curve): string {
  return `capture-${curve.label}`;
}

function outOfCapture(curve: Curve, bad: boolean): Curve {
  const warnings = bad ? [uncoded(CLIPPED, 'warning')] : [];
  const step = {
    did: 'deconvolve',
    with: { capture: captureId(curve), stimulus: 'sweep.wav', warnings, verdict: bad ? 'bad' : 'good' },
  };
  return { ...curve, steps: [step, ...curve.steps.slice(1)] };
}

/** Falls by 12 dB an octave and rises with the drive: closed form, so that figures can be told beforehand. */
export function harmonicDb(order: number, hz: number, driveAboveDb: number): number {
  return -24 - 6 * (order - 2) - 9 * Math.log2(hz / 20) + (driveAboveDb - 24) * 0.9;
}

function sampleHarmonic(response: Curve, order: number): Curve {
  const frequencyHz = response.frequencyHz.filter((hz) => hz * order < 400);
  const above = (response.about.driveDb as number) + 24;
  return makeCurve({
    role: 'harmonic',
    order,
    frequencyHz,
    levelDb: frequencyHz.map((hz) => harmonicDb(order, hz, above)),
    noiseDb: frequencyHz.map((hz) => -50 - above - 6 * Math.log2(hz / 20)),
    label: `${response.label} H${order}`,
    scale: 'relative',
    about: response.about,
    steps: response.steps.slice(0, 1),
  });
}

function sampleRecording(curve: Curve): Recording {
  return {
    kind: 'recording',
    role: 'capture',
    id: captureId(curve),
    label: `${curve.label}.wav`,
    wav: new Uint8Array(44),
    sampleRateHz: 48_000,
    channels: 1,
    seconds: 24.5,
    about: curve.about,
    steps: [],
  };
}

const ORDERS = [2, 3, 4, 5];

function sampleDistortion(device: string, setting: string, curves: Curve[], scale: Curve['scale']): Distortion {
  const bandsHz = thirdOctaveCentres(10, 200);
  const rungs = curves.map(({ id, label, about }) => ({ curve: id, label, driveDb: about.driveDb as number }));
  const above = (k: number): number => rungs[k].driveDb - rungs[0].driveDb;
  const cells = <T>(cell: (k: number, band: number) => T): T[][] =>
    rungs.map((_, k) => bandsHz.map((_, band) => cell(k, band)));
  const harmonics = ORDERS.map((order) => ({
    order,
    levelDb: cells((k, band) => harmonicDb(order, bandsHz[band], above(k))),
  }));
  const thd = (k: number, band: number): number =>
    100 * Math.sqrt(harmonics.reduce((sum, { levelDb }) => sum + 10 ** (levelDb[k][band] / 10), 0));
  const levelDb = cells((k, band) => (scale === 'spl' ? 74 : -50) + 1.5 * band + above(k) * 0.95);
  const noisePercent = cells((k, band) => 100 * 10 ** ((-44 - above(k) - 3 * band) / 20));
  return {
    device,
    setting,
    rungs,
    bandsHz,
    thdToOrder: 5,
    thdPercent: cells(thd),
    harmonics,
    noisePercent,
    trusted: cells((k, band) => noisePercent[k][band] < thd(k, band) / 3),
    levelDb,
    scale,
    passes: [3, 10].map((percent) => {
      const first = bandsHz.map((_, band) => rungs.findIndex((_, k) => thd(k, band) >= percent));
      const last = rungs.length - 1;
      return {
        percent,
        driveDb: first.map((k) => (k < 0 ? null : above(k))),
        levelDb: first.map((k, band) => levelDb[k < 0 ? last : k][band]),
        reached: first.map((k) => k >= 0),
      };
    }),
    caveats: [],
  };
}

type Centre = MaximumOutput['centres'][number];

const STOPS: Centre['stoppedBy'][] = ['distortion', 'distortion', 'distortion', 'compression', 'schedule', 'schedule'];

export function sampleOutput(device: string, setting: string, s = 0, scale: Curve['scale'] = 'spl'): MaximumOutput {
  const exact = thirdOctaveCentres(16, 125);
  const centres = exact.map((centreHz, k): Centre => {
    const peak = (scale === 'spl' ? 98.4 : -12.6) + 2.7 * k - 2 * s;
    const stoppedBy = STOPS[Math.min(k, STOPS.length - 1)];
    return {
      centreHz,
      driveDb: -12 + k,
      peakAt1mDb: k === 0 && s === 1 ? null : peak,
      rmsAt2mDb: k === 0 && s === 1 ? null : peak - 9.03,
      stoppedBy: k === 0 && s === 1 ? 'noise' : k === 8 ? 'clipping' : stoppedBy,
      ...(stoppedBy === 'distortion' && { harmonic: { order: 3, levelDb: -13.4, limitDb: -15 } }),
      bursts: [0, 3].map((more) => ({
        driveDb: -15 + more + k,
        levelDb: peak - 3 + more,
        passed: more === 0,
        harmonicsDb: [-20.2, -13.4, null],
      })),
      trusted: k !== 1,
    };
  });
  return {
    device,
    setting,
    recordings: [`bursts-${setting}`],
    limits: [
      { fromOrder: 2, toOrder: 2, limitDb: -10 },
      { fromOrder: 3, toOrder: 3, limitDb: -15 },
      { fromOrder: 4, toOrder: 5, limitDb: -20 },
      { fromOrder: 6, toOrder: 8, limitDb: -30 },
      { fromOrder: 9, toOrder: null, limitDb: -40 },
    ],
    scale,
    measuredAtM: 2,
    centres,
    averages: [
      { name: 'low bass', centresHz: exact.slice(0, 3), peakAt1mDb: 104.02, rmsAt2mDb: 94.99, atLeast: false },
      { name: 'upper bass', centresHz: exact.slice(3, 6), peakAt1mDb: 112.13, rmsAt2mDb: 103.1, atLeast: true },
    ],
    assumption:
      'Levels were brought from 2 m to 1 m by inverse distance, which holds outdoors. In a room they include the room.',
    caveats: [],
  };
}

export function sampleQuality(curve: Curve, k: number): CaptureQuality {
  const bands = thirdOctaveCentres(10, 400);
  const verdict = k === BAD ? 'bad' : k === DOUBTFUL ? 'doubtful' : 'good';
  return {
    recording: captureId(curve),
    label: `${curve.label}.wav`,
    about: curve.about,
    verdict,
    clippedSamples: k === BAD ? 412 : 0,
    clippedAtS: k === BAD ? 6.2 : null,
    truncatedAtHz: k === DOUBTFUL ? 316.4 : null,
    missedBelowHz: null,
    humHz: [
      { frequencyHz: 50.02, levelDb: -71.3 },
      { frequencyHz: 100.04, levelDb: -78.6 },
    ],
    peakDbfs: k === BAD ? -0.4 : -18.2 + k,
    snrDb: { frequencyHz: bands, db: bands.map((_, band) => 14.2 + 2 * band + k) },
    clockPpm: 23.4,
    clockUncertaintyPpm: 0.8,
    ...(k === 0 && { repeatability: { take: 'another', worstDb: 0.42, atHz: bands[2], medianDb: 0.05 } }),
    warnings:
      k === BAD
        ? [uncoded(CLIPPED, 'warning')]
        : k === DOUBTFUL
          ? [
              uncoded(
                'The recording ends before the sweep does, at 316 Hz: let it run on for two seconds after the sweep.',
              ),
            ]
          : [],
  };
}

export function sampleExposure(): Exposure {
  return {
    levelDba: 94,
    levelDbc: 112.3,
    from: 'read from a meter at the seat',
    permittedSeconds: 3600,
    measuredSeconds: 480,
    caveats: [],
  };
}
