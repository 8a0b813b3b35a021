import { beforeAll, describe, it } from 'vitest';
import { measureDistortion } from '../../lib';
import type { Curve } from '../../lib/model/curve';
import { makeCurve } from '../../lib/model/makeCurve';
import { type Random, randomFrom } from '../../lib/rig/random';
import { deconvolved } from '../deconvolved';
import { Worst } from './worst';

/*
 * Harmonics drawn by law: order n rises by n - 1 dB for every dB of drive (a static nonlinearity far below its limit
 * does that) and falls with frequency; the fundamental rolls off and has dips of a room; noise is added to every bin as
 * a random phasor. The truth is a plain sum of powers over a fine grid, from the laws and not from the curves.
 */

const ORDERS = [2, 3, 4, 5];
const PERCENTS = [1, 3, 10];
const dB = (power: number) => 10 * Math.log10(power);
const powerOf = (db: number) => 10 ** (db / 10);

interface Drawn {
  name: string;
  grid: number[];
  drives: number[];
  levelDb(hz: number, drive: number): number;
  harmonicDb(order: number, hz: number, drive: number): number;
  noiseDb(hz: number): number;
  random: Random;
}

function draw(seed: number): Drawn {
  const random = randomFrom([seed, 'distortion']);
  const cornerHz = random.between(14, 30);
  const dips = Array.from({ length: 4 }, () => ({
    hz: random.between(15, 110),
    db: random.between(3, 15),
    q: random.between(6, 25),
  }));
  const base = ORDERS.map((order) => -30 - 9 * (order - 2) - random.between(0, 14));
  const slope = random.between(3, 12);
  const noiseAt20 = random.between(10, 45);
  const isLinear = random.uniform() < 0.5;
  const step = random.between(0.1, 0.6);
  const perOctave = random.between(12, 96);
  const grid = isLinear
    ? Array.from({ length: Math.ceil(195 / step) }, (_, i) => 5 + step * i)
    : Array.from({ length: Math.ceil(5.3 * perOctave) }, (_, i) => 5 * 2 ** (i / perOctave));
  const stepDb = random.between(1.5, 4);
  return {
    name: `seed ${seed}, ${isLinear ? `${step.toFixed(2)} Hz` : `1/${perOctave.toFixed(0)} octave`}`,
    grid,
    drives: Array.from({ length: 3 + Math.floor(random.between(0, 6)) }, (_, i) => stepDb * i),
    levelDb: (hz, drive) =>
      85 +
      drive -
      dB(1 + (cornerHz / hz) ** 4) -
      dips.reduce((sum, dip) => sum + dip.db / (1 + (dip.q * Math.log2(hz / dip.hz)) ** 2), 0),
    harmonicDb: (order, hz, drive) => base[order - 2] + (order - 1) * (drive - 12) - slope * Math.log2(hz / 20),
    noiseDb: (hz) => noiseAt20 - 6 * Math.log2(hz / 20),
    random,
  };
}

/** One run as it would be measured. */
function measure(drawn: Drawn, drive: number, take: number): Curve[] {
  const { grid: frequencyHz, random } = drawn;
  const noisy = (signalDb: number, noiseDb: number) => {
    const amplitude = Math.sqrt(powerOf(noiseDb) / 2);
    return dB((10 ** (signalDb / 20) + amplitude * random.normal()) ** 2 + (amplitude * random.normal()) ** 2);
  };
  const levelDb = frequencyHz.map((hz) => noisy(drawn.levelDb(hz, drive), drawn.noiseDb(hz)));
  const common = {
    frequencyHz,
    label: `+${drive.toFixed(1)} dB, take ${take}`,
    about: { device: 'drawn', setting: 'flat', driveDb: drive },
    steps: [deconvolved(`${drive} ${take}`)],
  };
  return [
    makeCurve({ ...common, levelDb, noiseDb: frequencyHz.map(drawn.noiseDb) }),
    ...ORDERS.map((order) => {
      const noiseDb = frequencyHz.map((hz) => drawn.noiseDb(order * hz));
      const sound = frequencyHz.map((hz, i) =>
        noisy(drawn.levelDb(hz, drive) + drawn.harmonicDb(order, hz, drive), noiseDb[i]),
      );
      const re = (column: number[]) => column.map((db, i) => db - levelDb[i]);
      return makeCurve({ ...common, role: 'harmonic', order, levelDb: re(sound), noiseDb: re(noiseDb) });
    }),
  ];
}

/** Powers over a third octave: fundamental, all harmonics, and the noise in these. */
function truthIn(drawn: Drawn, centreHz: number, drive: number) {
  const points = Array.from({ length: 160 }, (_, i) => centreHz * 10 ** (-0.05 + 0.1 * ((i + 0.5) / 160)));
  // equal steps of log frequency are wider in Hz at the top
  const mean = (power: (hz: number) => number) =>
    points.reduce((sum, hz) => sum + hz * power(hz), 0) / points.reduce((sum, hz) => sum + hz, 0);
  const fundamental = mean((hz) => powerOf(drawn.levelDb(hz, drive)));
  const over = (of: (order: number, hz: number) => number) =>
    ORDERS.reduce((sum, order) => sum + mean((hz) => powerOf(of(order, hz))), 0) / fundamental;
  return {
    fundamentalDb: dB(fundamental),
    thd: over((order, hz) => drawn.levelDb(hz, drive) + drawn.harmonicDb(order, hz, drive)),
    noise: over((order, hz) => drawn.noiseDb(order * hz)),
  };
}

describe('distortion of drawn laws', () => {
  const worst = new Worst();

  beforeAll(() => {
    for (let seed = 0; seed < 24; seed++) check(draw(seed), worst);
    worst.print('distortion of drawn laws');
  });

  it('THD of trusted cells is right within 0.25 dB and four standard deviations of the noise in the band', () => {
    worst.hold('THD, dB', 400);
  });
  it('what noise alone would read is right within 0.5 dB where the fundamental is clear', () => {
    worst.hold('noise, dB', 400);
  });
  it('levels of the fundamental are right within 0.25 dB where it is trusted', () => {
    worst.hold('level, dB', 400);
  });
  it('a percentage is passed where the law passes it, within 0.4 dB of drive and what noise moves', () => {
    worst.hold('passing, dB of drive', 150);
  });
  it('a percentage that the lowest rung which tells is above already is passed at or below it', () => {
    worst.hold('passed at most there', 30);
  });
  it('no percentage is passed that the law does not pass, and none is said to be cleaner that is not', () => {
    worst.hold('passed only where it is', 150);
    worst.hold('cleaner only where it is', 100);
  });
});

function check(drawn: Drawn, worst: Worst): void {
  const { name, drives } = drawn;
  const takes = drawn.random.pick([1, 1, 2]);
  const curves = drives.flatMap((drive) =>
    Array.from({ length: takes }, (_, take) => measure(drawn, drive, take)).flat(),
  );
  const found = measureDistortion(curves, { percents: PERCENTS });
  found.bandsHz.forEach((centreHz, band) => {
    const inBand = drawn.grid.filter((hz) => Math.abs(Math.log10(hz / centreHz)) < 0.05).length;
    const points = Math.max(1, 0.7 * inBand) * takes;
    const truths = drives.map((drive) => truthIn(drawn, centreHz, drive));
    // too few points to a band cannot follow dips and are no matter of distortion
    if (inBand < 8) return;
    const scatterDb = truths.map(({ thd, noise }) => 4.34 * Math.sqrt((2 * noise) / (thd * points)));
    drives.forEach((_, rung) => {
      const where = `${name}, ${centreHz.toFixed(0)} Hz, rung ${rung}`;
      const truth = truths[rung];
      if (!found.trusted[rung][band]) return;
      worst.add(
        'THD, dB',
        20 * Math.log10(found.thdPercent[rung][band]! / 100) - dB(truth.thd),
        0.25 + 4 * scatterDb[rung],
        where,
      );
      worst.add('noise, dB', 20 * Math.log10(found.noisePercent[rung][band]! / 100) - dB(truth.noise), 0.5, where);
      worst.add('level, dB', found.levelDb[rung][band]! - truth.fundamentalDb, 0.25, where);
    });
    checkPasses();

    function checkPasses(): void {
      for (const { percent, driveDb, levelDb, reached } of found.passes) {
        const where = `${name}, ${centreHz.toFixed(0)} Hz, ${percent} %`;
        const limit = (percent / 100) ** 2;
        const thdAt = (drive: number) => truthIn(drawn, centreHz, drive).thd;
        const [drive, level] = [driveDb[band], levelDb[band]];
        const from = drive === null ? -1 : drives.indexOf(drive);
        const isAtMost = from >= 0 && found.thdPercent[from][band]! > percent;
        if (isAtMost) worst.must('passed at most there', thdAt(drives[from]) > limit * 0.8, where);
        else if (drive !== null) {
          const moved = Math.max(...scatterDb.filter((_, k) => found.trusted[k][band]));
          worst.add(
            'passing, dB of drive',
            drive - crossing(thdAt, limit, drives[drives.length - 1] + 3),
            0.4 + 4 * moved,
            where,
          );
        }
        if (reached[band]) worst.must('passed only where it is', thdAt(drives[drives.length - 1]) > limit * 0.8, where);
        else if (level !== null) {
          const at = truths.findIndex(({ fundamentalDb }) => Math.abs(fundamentalDb - level) < 0.7);
          worst.must('cleaner only where it is', at >= 0 && truths[at].thd < limit * 1.2, where);
        }
      }
    }
  });
}

/** Drive at which a rising law passes a limit, by halving. */
function crossing(thdAt: (drive: number) => number, limit: number, mostDb: number): number {
  let [low, high] = [-40, mostDb];
  while (high - low > 0.02) {
    const middle = (low + high) / 2;
    if (thdAt(middle) < limit) low = middle;
    else high = middle;
  }
  return low;
}
