import { attachNoise, correctMicrophone } from '../../lib';
import type { Curve } from '../../lib/model/curve';
import { deriveCurve } from '../../lib/model/makeCurve';
import { powerIntegral } from '../../lib/response/powerIntegral';
import { type BandTruth, bandTruth } from '../../lib/rig/bandTruth';
import { type Bench, setUpBench } from '../../lib/rig/bench';
import { drawRig } from '../../lib/rig/drawRig';
import { noiseFloorDb } from '../../lib/rig/noiseFloor';
import type { RigSpec, UnitSpec } from '../../lib/rig/rigSpec';

/** A rig ready to be measured; runs are corrected by the microphone's file, as a practitioner would hold them. */
export interface Case {
  name: string;
  rig: RigSpec;
  bench: Bench;
  truth: BandTruth[];
  /** One run, by index of setting and rung. */
  run(setting: number, rung: number): Curve;
  /** The same, carrying the level of the noise. */
  runWithNoise(setting: number, rung: number): Curve;
  noise?: Curve;
  /** Highest rung at which nothing is lost yet in any setting (below 0.02 dB in every band); -1 for none. */
  cleanRung: number;
}

const withoutLimits = ({ limiter: _, heatDriveDb: __, ...unit }: UnitSpec): UnitSpec => unit;

/** First seed and number of rigs; others for a wider look: `BASSLOOM_SEEDS=100-160 npx vitest run test/truth`. */
function seeds(count: number): number[] {
  const [from, to] = process.env.BASSLOOM_SEEDS?.split('-').map(Number) ?? [0, count];
  return Array.from({ length: to - from }, (_, i) => from + i);
}

/** Drawn by seed, none left out; then the cases that a draw gives too rarely. */
export function drawnRigs(count = 24): { name: string; rig: RigSpec }[] {
  const drawn = seeds(count).map((seed) => ({ name: `seed ${seed}`, rig: drawRig(seed) }));
  const special = (name: string, seed: number, overrides: Partial<RigSpec>) => ({
    name,
    rig: drawRig(seed, overrides),
  });
  return [
    ...drawn,
    special('no limiter', 101, { unit: withoutLimits(drawRig(101).unit) }),
    special('no limiter, loud noise', 102, {
      unit: withoutLimits(drawRig(102).unit),
      noise: { at20HzDb: 65, slopeDbPerOctave: -5, hum: { hz: 50, db: 15 } },
    }),
    ...[103, 107, 108, 109].map((seed) =>
      special(`2.9 dB for 3 dB (${seed})`, seed, { drive: { rungs: 10, commandedStepDb: 3, trueStepDb: 2.9 } }),
    ),
    special('65,536 points', 104, { grid: { kind: 'linear', startHz: 2, endHz: 2 + 65535 * 0.01, stepHz: 0.01 } }),
    special('50 points', 105, {
      room: undefined,
      noise: { at20HzDb: 20, slopeDbPerOctave: -6 },
      grid: { kind: 'log', startHz: 5, endHz: 5 * 2 ** (49 / 8), pointsPerOctave: 8 },
    }),
    special('no noise', 106, { noise: undefined, scatter: { gainDb: 0, shapeDb: 0 } }),
  ];
}

/** The same draw in quiet places with little scatter, where also the bottom stands above the noise. */
export function quietRigs(count = 16): { name: string; rig: RigSpec }[] {
  return seeds(count).map((seed) => {
    const { scatter } = drawRig(200 + seed);
    const quiet = {
      noise: { at20HzDb: 10, slopeDbPerOctave: -6 },
      scatter: { ...scatter, shapeDb: scatter.shapeDb / 2 },
    };
    return { name: `quiet ${200 + seed}`, rig: drawRig(200 + seed, quiet) };
  });
}

export function openCase({ name, rig }: { name: string; rig: RigSpec }): Case {
  const bench = setUpBench(rig);
  const correction = bench.correction();
  const muted = bench.measureNoise();
  const corrected = (curve: Curve) => (correction ? correctMicrophone(curve, correction) : curve);
  const noise = muted && corrected(muted);
  const truth = bandTruth(rig);
  const run = (setting: number, rung: number) =>
    corrected(bench.measure({ setting: rig.settings[setting].name, driveDb: rung * rig.drive.commandedStepDb }));
  return {
    name,
    rig,
    bench,
    truth,
    run,
    runWithNoise: (setting, rung) => (noise ? attachNoise(run(setting, rung), noise) : run(setting, rung)),
    ...(noise && { noise }),
    cleanRung: cleanRung(truth),
  };
}

function cleanRung(truth: BandTruth[]): number {
  const clean = truth[0].levelDb.map((_, rung) =>
    truth.every(({ linearDb, levelDb }) => levelDb[rung].every((l, band) => linearDb[rung][band] - l < 0.02)),
  );
  const first = clean.indexOf(false);
  return first < 0 ? clean.length - 1 : first - 1;
}

/** True band levels on the rig's own grid, noise-free: what a perfect analysis of that grid could know. */
export function gridBandsDb({ rig, bench, truth }: Case, setting: number): number[][] {
  const { bandsHz, driveDb } = truth[setting];
  return driveDb.map((drive) => {
    const levels = bench.clean.levelDb(rig.settings[setting].equaliser, drive);
    const integral = powerIntegral(bench.clean.frequencyHz, levels);
    return bandsHz.map((hz) => integral.meanDb(hz * 10 ** -0.05, hz * 10 ** 0.05));
  });
}

/** True signal-to-noise ratio by frequency at a rung, dB, on a 1/48-octave list. */
export function snrOver(c: Case, setting: number, rung: number, frequencyHz: number[]): number[] {
  const levels = c.bench.clean.linearDb(c.rig.settings[setting].equaliser, rung * c.rig.drive.trueStepDb);
  const integral = powerIntegral(c.bench.clean.frequencyHz, levels);
  return frequencyHz.map((hz) => integral.meanDb(hz * 0.99, hz * 1.01) - noiseFloorDb(c.rig.noise, hz));
}

/** The curve as it would be without its room. */
export function withoutPath(c: Case, curve: Curve): Curve {
  const less = (level: number, i: number) => level - c.bench.clean.pathDb[i];
  const levelDb = curve.levelDb.map(less);
  return deriveCurve(
    curve,
    { levelDb, ...(curve.noiseDb && { noiseDb: curve.noiseDb.map(less) }) },
    { did: 'own: divide by transfer', with: {} },
  );
}
