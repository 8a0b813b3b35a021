import { expect, test } from 'vitest';
import {
  buildLadder,
  type Curve,
  demoRig,
  drawRig,
  makeCurve,
  measureSession,
  referenceCurves,
  referencePair,
} from '../../lib';
import { soundBands } from '../../lib/analysis/reference/soundBands';

const frequencyHz = Array.from({ length: 109 }, (_, i) => 10 * 2 ** (i / 24));

/** A run over noise of 40 dB that starts at 52 dB; above `limitDb` the part below 40 Hz gives no more. */
function run(setting: string, driveDb: number, limitDb = 200, position?: string): Curve {
  const level = 52 + driveDb;
  return makeCurve({
    frequencyHz,
    levelDb: frequencyHz.map((hz) => (hz < 40 ? Math.min(level, limitDb) : level)),
    noiseDb: frequencyHz.map(() => 40),
    label: `${setting} ${driveDb}`,
    about: { device: 'a', setting, driveDb, ...(position && { position }) },
  });
}
const ladder = (setting: string, limitDb?: number) => [0, 3, 6, 9, 12, 15, 18].map((db) => run(setting, db, limitDb));
const drivesOf = (curves: Curve[]) => curves.map((curve) => curve.about.driveDb);

test('the lowest drive is taken that is 20 dB clear of the noise everywhere', () => {
  expect(drivesOf(referenceCurves(ladder('flat')))).toEqual([9]);
});

test('a drive that compresses is not taken, nor one whose other bands drown', () => {
  // Below 40 Hz the unit limits at 62 dB, 1 dB into the step to 63: no rung there is both clear and uncompressed.
  const [chosen] = referenceCurves(ladder('flat', 62));
  expect(chosen.about.driveDb).toBe(9);
  // Limiting from 73 dB on does not touch the choice.
  expect(drivesOf(referenceCurves(ladder('flat', 66)))).toEqual([9]);
});

test('order of runs and ladders built before do not matter', () => {
  const curves = [...ladder('flat'), ...ladder('deep', 66)];
  const expected = referenceCurves(curves).map((curve) => curve.label);
  const built = [buildLadder(ladder('flat')), buildLadder(ladder('deep', 66))];
  expect(referenceCurves([...curves].reverse(), built).map((curve) => curve.label)).toEqual([...expected].reverse());
});

test('every setting and position has its own, runs of no known drive are all kept', () => {
  const lone = makeCurve({ frequencyHz: [20, 40], levelDb: [1, 2], label: 'lone' });
  const other = makeCurve({ frequencyHz: [20, 40], levelDb: [2, 2], label: 'other' });
  const left = ladder('flat').map((curve) => ({ ...curve, about: { ...curve.about, position: 'left' } }));
  const chosen = referenceCurves([lone, ...ladder('flat'), ...left, other]);
  expect(chosen.map((curve) => [curve.label, curve.about.position])).toEqual([
    ['lone', undefined],
    ['flat 9', undefined],
    ['flat 9', 'left'],
    ['other', undefined],
  ]);
});

test('runs that make no ladder are judged by the lowest drive', () => {
  const short = (driveDb: number) =>
    makeCurve({ frequencyHz: [20, 21], levelDb: [driveDb, driveDb], about: { driveDb } });
  expect(drivesOf(referenceCurves([short(6), short(3)]))).toEqual([3]);
});

test('the noise run of another unit does not count', () => {
  const noise = (device: string) =>
    makeCurve({ frequencyHz, levelDb: frequencyHz.map(() => 70), role: 'noise', about: { device } });
  const quiet = ladder('flat').map(({ noiseDb, ...curve }) => makeCurve(curve));
  expect(drivesOf(referenceCurves([...ladder('flat'), noise('b')]))).toEqual([9]);
  expect(drivesOf(referenceCurves([...quiet, noise('a')]))).not.toEqual([9]);
});

test('two settings are compared at one drive, where both are clear and neither compresses', () => {
  const pair = referencePair(ladder('flat'), ladder('deep', 66));
  expect(drivesOf(pair as Curve[])).toEqual([9, 9]);
  const apart = referencePair([run('flat', 0), run('flat', 12)], [run('deep', 3), run('deep', 12)]);
  expect(drivesOf(apart as Curve[])).toEqual([12, 12]);
  expect(drivesOf(referencePair([run('flat', 0)], [run('deep', 3)]) as Curve[])).toEqual([0, 3]);
  expect(referencePair([run('flat', 0, 200, 'left')], [run('deep', 0, 200, 'right')])).toBeUndefined();
});

test('in simulated sessions the chosen run is, by the truth, clear of the noise and uncompressed where it is taken to be', () => {
  for (const rig of [demoRig(), ...[1, 2, 3, 4, 5, 6, 7, 8].map((seed) => drawRig(seed))]) {
    const { curves, noise, truth } = measureSession(rig);
    const all = noise ? [...curves, noise] : curves;
    for (const { about } of referenceCurves(all)) {
      const bands = truth.bands.find((one) => one.setting === about.setting)!;
      const rung = Math.round(about.driveDb! / rig.drive.commandedStepDb);
      const built = buildLadder(all.filter((curve) => curve.role === 'noise' || curve.about.setting === about.setting));
      const sound = soundBands(built)[rung].flatMap((isSound, band) => (isSound ? [built.bandsHz[band]] : []));
      expect(sound.length).toBeGreaterThan(0);
      for (const hz of sound) {
        const band = bands.bandsHz.findIndex((one) => Math.abs(one / hz - 1) < 1e-6);
        expect(bands.snrDb[rung][band]).toBeGreaterThan(15);
        expect(bands.linearDb[rung][band] - bands.levelDb[rung][band]).toBeLessThan(1.5);
      }
    }
  }
});
