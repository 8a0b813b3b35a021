import { afterAll, describe, expect, it } from 'vitest';
import { buildLadder } from '../../../lib/analysis/ladder/buildLadder';
import { logGrid, randomOf, simulate } from './ladderSimulator';

const grid = logGrid(8, 200, 48);
const rows: string[] = [];
afterAll(() => console.log(`True step\n${rows.join('\n')}`));

interface Setup {
  name: string;
  trueStepDb: (seed: number) => number;
  scatterDb: (seed: number) => number;
  knee: (seed: number) => number | null;
  headroomDb: [number, number];
  snrDb: [number, number];
  rungs: (seed: number) => number;
}

/** Errors of the measured step, how often its uncertainty covers them, and how often a right step is called wrong. */
function measure(setup: Setup, seeds: number) {
  const errors: number[] = [];
  let covered = 0;
  let falseAlarms = 0;
  let said = 0;
  let unmeasured = 0;
  for (let seed = 0; seed < seeds; seed++) {
    const random = randomOf(5000 + seed);
    const headroom = random.between(...setup.headroomDb);
    const trueStepDb = setup.trueStepDb(seed);
    const { curves, noise } = simulate({
      seed: 5000 + seed,
      frequencyHz: grid,
      rungs: setup.rungs(seed),
      commandedStepDb: 3,
      trueStepDb,
      scatterDb: setup.scatterDb(seed),
      snrDb: random.between(...setup.snrDb),
      noiseSlopeDb: random.between(-8, -3),
      knee: setup.knee(seed),
      headroomDb: (hz) => headroom + 4 * Math.max(-1, Math.min(1, Math.log2(hz / 40))),
    });
    const { step } = buildLadder(curves, { noise });
    if (step.measuredDb === null || step.uncertaintyDb === null) {
      unmeasured++;
      continue;
    }
    const error = Math.abs(step.measuredDb - trueStepDb);
    errors.push(error);
    if (error <= step.uncertaintyDb) covered++;
    if (trueStepDb === 3 && step.differs) falseAlarms++;
    if (trueStepDb !== 3 && step.differs) said++;
  }
  errors.sort((a, b) => a - b);
  const at = (q: number) => errors[Math.floor(q * (errors.length - 1))];
  rows.push(
    `${setup.name}: median ${at(0.5).toFixed(3)}, 95 % within ${at(0.95).toFixed(3)}, worst ${at(1).toFixed(3)} dB, ` +
      `covered ${covered} of ${seeds}, not measured ${unmeasured}, false alarms ${falseAlarms}, differences said ${said}`,
  );
  return { errors, at, covered, falseAlarms, said, unmeasured };
}

describe('the true step', () => {
  it('of 2.9 dB is found within 0.05 dB where runs repeat within 0.1 dB, and is said to differ', () => {
    const setup = { rungs: () => 10, trueStepDb: () => 2.9, scatterDb: () => 0.1, knee: () => null };
    const found = measure({ ...setup, name: '2.9 dB, no limits', headroomDb: [30, 30], snrDb: [25, 55] }, 100);
    expect(found.at(0.95)).toBeLessThan(0.05);
    expect(found.covered).toBeGreaterThanOrEqual(92);
    expect(found.said).toBeGreaterThanOrEqual(90);
  });

  it('is found beside knees that some bands never meet', () => {
    const setup = {
      rungs: () => 10,
      trueStepDb: () => 2.9,
      scatterDb: () => 0.05,
      knee: (seed: number) => [1.5, 3, 8][seed % 3],
    };
    const found = measure({ ...setup, name: '2.9 dB, knees', headroomDb: [20, 28], snrDb: [25, 55] }, 100);
    expect(found.at(0.9)).toBeLessThan(0.05);
    expect(found.covered).toBeGreaterThanOrEqual(90);
  });

  it('is covered by its uncertainty in 90 % and more of 200 mixed ladders, and seldom called wrong where it is right', () => {
    const found = measure(
      {
        name: 'mixed',
        rungs: (seed) => 8 + (seed % 5),
        trueStepDb: (seed) => [3, 2.9, 3, 3.06][seed % 4],
        scatterDb: (seed) => [0.05, 0.1, 0.3][seed % 3],
        knee: (seed) => [null, 1, 1.5, 3, 8, null, 2][seed % 7],
        headroomDb: [12, 28],
        snrDb: [0, 50],
      },
      200,
    );
    expect(found.covered).toBeGreaterThanOrEqual(180);
    expect(found.falseAlarms).toBeLessThanOrEqual(10); // of 100
  });

  it('is not claimed from two rungs beyond what runs repeat by', () => {
    const found = measure(
      {
        name: 'two rungs',
        rungs: () => 2,
        trueStepDb: () => 3,
        scatterDb: () => 0.1,
        knee: () => null,
        headroomDb: [30, 30],
        snrDb: [40, 50],
      },
      60,
    );
    expect(found.covered).toBe(60);
    expect(found.falseAlarms).toBe(0);
  });
});
