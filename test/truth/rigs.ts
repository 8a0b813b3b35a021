import { correctMicrophone } from '../../lib';
import type { Curve } from '../../lib/model/curve';
import { deriveCurve } from '../../lib/model/makeCurve';
import { powerIntegral } from '../../lib/response/powerIntegral';
import { drawRig } from '../../lib/rig/drawRig';
import { type Bench, measureSession, type Session, setUpBench } from '../../lib/rig/measureSession';
import { noiseFloorDb } from '../../lib/rig/noiseFloor';
import type { RigSpec, UnitSpec } from '../../lib/rig/rigSpec';

/** A rig with its measured session, as a practitioner would hold it: corrected by the microphone's file. */
export interface Case {
  name: string;
  rig: RigSpec;
  bench: Bench;
  session: Session;
  /** By setting. */
  curves: Record<string, Curve[]>;
  noise?: Curve;
  /** Highest rung at which nothing is lost yet in any setting (below 0.02 dB in every band); -1 for none. */
  cleanRung: number;
}

const withoutLimits = ({ limiter: _, heatDriveDb: __, ...unit }: UnitSpec): UnitSpec => unit;

/** Drawn by seed, none left out; then the cases that a draw gives too rarely. */
export function drawnRigs(count = 24): { name: string; rig: RigSpec }[] {
  const drawn = Array.from({ length: count }, (_, seed) => ({ name: `seed ${seed}`, rig: drawRig(seed) }));
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

export function openCase({ name, rig }: { name: string; rig: RigSpec }): Case {
  const session = measureSession(rig);
  const { correction } = session;
  const corrected = (curve: Curve) => (correction ? correctMicrophone(curve, correction) : curve);
  const curves: Case['curves'] = {};
  for (const curve of session.curves) {
    const setting = curve.about.setting!;
    curves[setting] ??= [];
    curves[setting].push(corrected(curve));
  }
  return {
    name,
    rig,
    bench: setUpBench(rig),
    session,
    curves,
    noise: session.noise && corrected(session.noise),
    cleanRung: cleanRung(session),
  };
}

function cleanRung({ truth }: Session): number {
  const clean = truth.bands[0].levelDb.map((_, rung) =>
    truth.bands.every(({ linearDb, levelDb }) => levelDb[rung].every((l, band) => linearDb[rung][band] - l < 0.02)),
  );
  const first = clean.indexOf(false);
  return first < 0 ? clean.length - 1 : first - 1;
}

/** True band levels on the rig's own grid, noise-free: what a perfect analysis of that grid could know. */
export function gridBandsDb({ rig, bench, session }: Case, setting: number): number[][] {
  const { bandsHz, driveDb } = session.truth.bands[setting];
  return driveDb.map((drive) => {
    const levels = bench.clean.levelDb(rig.settings[setting].equaliser, drive);
    const integral = powerIntegral(bench.clean.frequencyHz, levels);
    return bandsHz.map((hz) => integral.meanDb(hz * 10 ** -0.05, hz * 10 ** 0.05));
  });
}

/** Band levels by an oracle that knows the expected noise power: what noise and scatter leave knowable. */
export function oracleBandsDb({ rig, curves, session }: Case, setting: number): number[][] {
  const { bandsHz } = session.truth.bands[setting];
  return curves[rig.settings[setting].name].map((curve) => {
    const noise = powerIntegral(
      curve.frequencyHz,
      curve.frequencyHz.map((hz) => noiseFloorDb(rig.noise, hz)),
    );
    const integral = powerIntegral(curve.frequencyHz, curve.levelDb);
    return bandsHz.map((hz) => {
      const band = [hz * 10 ** -0.05, hz * 10 ** 0.05] as const;
      return 10 * Math.log10(integral.mean(...band) - noise.mean(...band));
    });
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
  const levelDb = curve.levelDb.map((level, i) => level - c.bench.clean.pathDb[i]);
  return deriveCurve(curve, { levelDb }, { did: 'divide by transfer', with: {} });
}
