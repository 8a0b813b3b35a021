import { afterAll, describe, it } from 'vitest';
import { buildLadder, type Ladder } from '../../lib';
import { compressionTruth, onsetTruth } from '../../lib/rig/compressionTruth';
import { type Case, drawnRigs, gridBandsDb, openCase } from './rigs';
import { Worst } from './worst';

// The truth is that of the bench (closed forms), counted from the rung that the ladder names as its reference.
// Every claim is checked where its precondition is true of the rig, not of the measurement.
const worst = new Worst();

const LOUD = 'trusted compression, reference SNR > 20 dB';
const SOFT = 'trusted compression, reference SNR 10-20 dB';
const LOUD_MORE = `${LOUD}, uncertain by more`;
const SOFT_MORE = `${SOFT}, uncertain by more`;
const DOUBTED = 'untrusted compression (reported only)';
const ABSOLUTE = 'trusted compression against the unit without limits';
const UNTRUSTED = 'untrusted where SNR < 10 dB';
const COVERED = 'trusted where SNR allows, share missing';
const ONSET_1 = 'onset of 1 dB, drive';
const ONSET_3 = 'onset of 3 dB, drive';
const ONSET_FALSE = 'no onset where nothing compresses';
const ONSET_FOUND = 'onset found where the loss is clear';
const CEILING = 'ceiling, level';
const REACHED = "ceiling 'reached' and 'at least'";
const KIND = 'regions of a wall are limiters, of a wide knee gradual';
const UNLIMITED = 'a unit without limits shows no compression';
const STEP = 'true step';
const STEP_MEASURED = 'a step that can be measured is';
const STEP_COVERED = 'true step in uncertainties';
const WRONG_STEP = '2.9 dB for 3 dB, in uncertainties';
const WRONG_STEP_SAID = '2.9 dB for 3 dB is said';

const isUnlimited = (c: Case) => !c.rig.unit.limiter && c.rig.unit.heatDriveDb === undefined;

function check(c: Case, setting: number): void {
  const { drive, settings } = c.rig;
  const wrongStep = drive.trueStepDb !== drive.commandedStepDb;
  // a step can only be measured on bands that lose nothing
  const step = wrongStep && linearRungs(c, setting) >= 5 ? 'measured' : 'commanded';
  const name = `${c.name}, ${settings[setting].name}`;
  const curves = Array.from({ length: drive.rungs }, (_, rung) => c.run(setting, rung));
  const ladder = buildLadder(curves, { ...(c.noise && { noise: c.noise }), step });
  checkStep(c, setting, ladder, name);
  checkUnlimited(c, ladder, name);
  checkKinds(c, ladder, name);

  const truth = c.truth[setting];
  const onGrid = gridBandsDb(c, setting);
  const share = { deserving: 0, missing: 0 };
  ladder.bandsHz.forEach((hz, band) => {
    const at = truth.bandsHz.findIndex((centre) => Math.abs(centre / hz - 1) < 1e-6);
    if (at < 0) throw new Error(`band ${hz} Hz is not in the truth`);
    const referenceRung = ladder.referenceRung[band];
    const stepDb = step === 'measured' ? drive.trueStepDb : drive.commandedStepDb;
    const view: View = {
      c,
      ladder,
      band,
      where: `${name}, ${hz.toFixed(1)} Hz`,
      reference: referenceRung,
      real: compressionTruth(truth, at, { referenceRung, stepDb }),
      stepDb,
      snrDb: truth.snrDb.map((row) => row[at]),
      gridOffDb: truth.levelDb.map((row, rung) => onGrid[rung][at] - row[at]),
      points: c.bench.clean.frequencyHz.filter((f) => f > hz * 10 ** -0.05 && f < hz * 10 ** 0.05).length,
    };
    checkCompression(view, step === 'measured' || !wrongStep);
    checkTrust(view, share);
    checkOnsets(view);
    checkCeiling(view);
  });
  if (share.deserving > 20 && linearRungs(c, setting) >= 5)
    worst.add(COVERED, share.missing / share.deserving, 0.1, name);
}

/** One band of one ladder beside its truth. */
interface View {
  c: Case;
  ladder: Ladder;
  band: number;
  where: string;
  reference: number | null;
  real: ReturnType<typeof compressionTruth>;
  stepDb: number;
  snrDb: number[];
  /** Band level on the rig's own grid less the true one, by rung. */
  gridOffDb: number[];
  points: number;
}

/** How many rungs from the first audible one the most patient band goes without losing anything. */
function linearRungs(c: Case, setting: number): number {
  const { bandsHz, snrDb, linearDb, levelDb } = c.truth[setting];
  const counts = bandsHz.map(
    (_, band) =>
      snrDb.filter((row, rung) => row[band] > 22 && linearDb[rung][band] - levelDb[rung][band] < 0.03).length,
  );
  return Math.max(0, ...counts);
}

/** Standard deviation of a band's level by noise, dB: of n independent points in complex Gaussian noise. */
function noiseErrorDb(snrDb: number, points: number): number {
  const ratio = 10 ** (-snrDb / 10);
  return (10 / Math.LN10) * Math.sqrt((2 * ratio + ratio * ratio) / Math.max(1, points));
}

/** Standard deviation of the difference of two rungs, dB: noise and scatter, of one band by itself. */
function differenceErrorDb({ c, snrDb, points }: View, rungs: [number, number]): number {
  const { gainDb, shapeDb } = c.rig.scatter;
  // a band that the room tilts or cuts has fewer points that count
  const noise = rungs.map((rung) => 1.5 * noiseErrorDb(snrDb[rung], points));
  return Math.hypot(...noise, Math.SQRT2 * Math.hypot(gainDb, shapeDb));
}

function checkCompression(view: View, absolute: boolean): void {
  const { ladder, band, where, reference, real, snrDb, gridOffDb, points } = view;
  if (reference === null) return;
  for (let rung = reference + 1; rung < ladder.rungs.length; rung++) {
    const found = ladder.compressionDb[rung][band];
    const snr = Math.min(snrDb[reference], snrDb[rung]);
    if (found === null || snr < 10) continue;
    if (Math.abs(gridOffDb[rung] - gridOffDb[reference]) > 0.1) continue; // the grid is too coarse for this band
    if (noiseErrorDb(snr, points) > 0.15) continue; // too few points for 20 dB to mean what it should
    const at = `${where}, rung ${rung}`;
    const error = found - real.compressionDb[rung]!;
    if (!ladder.trusted[rung][band]) {
      worst.add(DOUBTED, error, 99, at);
      continue;
    }
    const tolerance = snr > 20 ? 0.45 : 0.9;
    // thousands of cells: some reach four standard deviations
    const knowable = 4.5 * differenceErrorDb(view, [reference, rung]);
    const allowed = Math.max(tolerance, knowable);
    const claims = snr > 20 ? [LOUD, LOUD_MORE] : [SOFT, SOFT_MORE];
    worst.add(claims[knowable > tolerance ? 1 : 0], error, allowed, at);
    if (absolute) worst.add(ABSOLUTE, found - real.lossDb[rung], allowed, at);
  }
}

function checkTrust(view: View, share: { deserving: number; missing: number }): void {
  const { ladder, band, where, real, snrDb, points } = view;
  // the noise itself is known to three standard deviations of a mean over so few points
  const surelyBelow = 10 - (3 * 4.34) / Math.sqrt(Math.max(1, points / 2));
  snrDb.forEach((snr, rung) => {
    if (snr < surelyBelow) worst.must(UNTRUSTED, !ladder.trusted[rung][band], `${where}, rung ${rung}`);
  });
  const own = snrDb.findIndex((snr) => snr >= 26 && noiseErrorDb(snr, points) < 0.1);
  if (own < 0 || own + 1 >= snrDb.length || real.lossDb[own] > 0.02 || real.lossDb[own + 1] > 0.1) return;
  for (let rung = own + 1; rung < snrDb.length; rung++) {
    share.deserving++;
    if (!ladder.trusted[rung][band] || ladder.compressionDb[rung][band] === null) share.missing++;
  }
}

function checkStep(c: Case, setting: number, ladder: Ladder, where: string): void {
  if (linearRungs(c, setting) < 5) return;
  const { measuredDb, uncertaintyDb, differs } = ladder.step;
  worst.must(STEP_MEASURED, measuredDb !== null && uncertaintyDb !== null, where);
  if (measuredDb === null || uncertaintyDb === null) return;
  const off = Math.abs(measuredDb - c.rig.drive.trueStepDb);
  worst.add(STEP, off, 0.05, where);
  // the uncertainty is one of 95 %: of the many rigs some must miss, none by much; of the wrong steps none
  worst.add(STEP_COVERED, off / uncertaintyDb, 2, where);
  if (c.name.startsWith('2.9')) {
    worst.add(WRONG_STEP, off / uncertaintyDb, 1, where);
    worst.must(WRONG_STEP_SAID, differs === true, where);
  }
}

function checkUnlimited(c: Case, ladder: Ladder, where: string): void {
  if (!isUnlimited(c)) return;
  worst.must(UNLIMITED, ladder.regions.length === 0, `${where}: regions`);
  worst.must(UNLIMITED, !ladder.ceiling.reached.some(Boolean), `${where}: ceilings reached`);
  worst.must(
    UNLIMITED,
    ladder.onset.every((onset) => onset.driveDb.every((db) => db === null)),
    `${where}: onsets`,
  );
}

function checkKinds(c: Case, ladder: Ladder, where: string): void {
  const { limiter } = c.rig.unit;
  // a guard has another knee than the rest, and heat blunts a sharp one
  if (!limiter || limiter.guard || c.rig.unit.heatDriveDb !== undefined) return;
  if (limiter.kneeDb > 5 && limiter.kneeDb < 12) return; // one or the other
  const wanted = limiter.kneeDb < 5 ? 'limiter' : 'gradual';
  for (const region of ladder.regions) {
    const range = `${region.lowHz.toFixed(0)}-${region.highHz.toFixed(0)} Hz`;
    worst.must(KIND, region.kind === wanted, `${where}, ${range}: knee ${limiter.kneeDb.toFixed(1)} dB`);
  }
}

function checkOnsets(view: View): void {
  const { ladder, band, where, reference, real, stepDb, snrDb } = view;
  if (reference === null) return;
  const trusted = ladder.trusted.every((row, rung) => rung <= reference || row[band]);
  const most = Math.max(...real.compressionDb.map((db) => db ?? 0));
  for (const [wantedDb, claim, tolerance] of [
    [1, ONSET_1, 0.6],
    [3, ONSET_3, 0.3],
  ] as const) {
    const found = ladder.onset.find((onset) => onset.compressionDb === wantedDb)!.driveDb[band];
    if (most < wantedDb - 0.45) worst.must(ONSET_FALSE, found === null, `${where}: ${wantedDb} dB`);
    if (trusted && most > wantedDb + 0.5) worst.must(ONSET_FOUND, found !== null, `${where}: ${wantedDb} dB`);
    const onset = onsetTruth(real.compressionDb, stepDb, wantedDb);
    if (!onset || found === null || !trusted) continue;
    // what the two rungs alone leave uncertain, over the slope of the loss
    const at = Math.min(snrDb.length - 1, Math.round(onset.driveDb / stepDb));
    const knowable = (4 * differenceErrorDb(view, [reference, at])) / onset.slope;
    if (knowable <= tolerance) worst.add(claim, found - onset.driveDb, tolerance, where);
    else worst.add(`${claim}, uncertain by more`, found - onset.driveDb, knowable, where);
  }
}

function checkCeiling({ c, ladder, band, where, real, stepDb, snrDb, gridOffDb }: View): void {
  const last = ladder.rungs.length - 1;
  const level = ladder.ceiling.levelDb[band];
  if (level === null || snrDb[last] < 20 || Math.abs(gridOffDb[last]) > 0.1) return;
  if (!ladder.trusted[last][band] || !ladder.trusted[last - 1][band]) return;
  // the highest of several rungs at one level lies above their mean
  const { gainDb, shapeDb } = c.rig.scatter;
  worst.add(CEILING, level - real.ceilingDb, Math.max(0.4, 4 * Math.hypot(gainDb, shapeDb)), where);
  // steps of 2 dB are small: 'the last rungs' are then two steps
  const before = stepDb < 2.5 ? last - 2 : last - 1;
  const gained = real.lossDb[last] - real.lossDb[before];
  const shares = [real.lastShare, 1 - gained / ((last - before) * c.rig.drive.trueStepDb)];
  // two runs may scatter by so much of a step, at three standard deviations
  const doubt = (3 * Math.SQRT2 * Math.hypot(c.rig.scatter.gainDb, c.rig.scatter.shapeDb)) / stepDb;
  if (shares.every((share) => share < 0.5 - doubt)) worst.must(REACHED, ladder.ceiling.reached[band], where);
  if (shares.every((share) => share > 0.5 + doubt)) worst.must(REACHED, !ladder.ceiling.reached[band], where);
}

describe('the compression ladder of drawn rigs', () => {
  for (const drawn of drawnRigs()) {
    it(`is read from ${drawn.name}`, () => {
      const c = openCase(drawn);
      for (const setting of c.rig.settings.keys()) check(c, setting);
    });
  }

  it('has the compression of each band', () => {
    worst.hold(LOUD, 500);
    worst.hold(LOUD_MORE);
    worst.hold(SOFT_MORE);
    worst.hold(ABSOLUTE, 500);
  });
  it('trusts what the noise allows and nothing else', () => {
    worst.hold(UNTRUSTED, 100);
    worst.hold(COVERED, 20);
  });
  it('has the onsets of 1 and 3 dB', () => {
    worst.hold(ONSET_1, 20);
    worst.hold(ONSET_3, 20);
    worst.hold(ONSET_FALSE, 100);
    worst.hold(ONSET_FOUND, 50);
  });
  it("has the ceilings, and says 'at least' where none was reached", () => {
    worst.hold(CEILING, 100);
    worst.hold(REACHED, 100);
  });
  it('tells a limiter from a unit that runs out gradually', () => worst.hold(KIND, 5));
  it('shows no compression of a unit without limits', () => worst.hold(UNLIMITED, 6));
  it('measures the true step, with an uncertainty that covers it', () => {
    worst.hold(STEP, 20);
    worst.hold(STEP_MEASURED, 20);
    worst.hold(STEP_COVERED, 20);
    worst.hold(WRONG_STEP, 6);
    worst.hold(WRONG_STEP_SAID, 6);
  });

  afterAll(() => worst.print('Compression ladder: worst errors against the truth of the drawn rigs (dB)'));
});
