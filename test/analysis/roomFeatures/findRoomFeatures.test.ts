import { describe, expect, it } from 'vitest';
import { fitBand } from '../../../lib/analysis/bandFit/fitBand';
import { findRoomFeatures } from '../../../lib/analysis/roomFeatures/findRoomFeatures';
import type { Curve } from '../../../lib/model/curve';
import { makeCurve } from '../../../lib/model/makeCurve';
import type { Room } from '../../../lib/room/room';
import { roomModes } from '../../../lib/room/roomModes';
import {
  drawRoom,
  drawUnit,
  linearGrid,
  logGrid,
  measureRun,
  octavesApart,
  type Random,
  randomFrom,
  transferDb,
} from './roomScene';

const grid = logGrid(96, 6, 400);

/** A notch: level in dB of a dip of some depth and half width in octaves. */
const notch = (hz: number, at: number, depthDb: number, halfOctaves: number) =>
  -depthDb / (1 + (Math.log2(hz / at) / halfOctaves) ** 2);

/** Second-order high-pass at 25 Hz, Butterworth, closed form. */
const sealed = (hz: number) => -10 * Math.log10(1 + (25 / hz) ** 4);

function run(
  random: Random,
  levelDb: (hz: number) => number,
  more: Partial<Parameters<typeof measureRun>[1]> = {},
): Curve {
  const frequencyHz = more.frequencyHz ?? grid;
  return measureRun(random, { frequencyHz, cleanDb: frequencyHz.map(levelDb), noiseDb: -50, scatterDb: 0.1, ...more });
}

describe('room features', () => {
  it('are a dip where a dip is, with its prominence, width and place', () => {
    const random = randomFrom(1);
    const curve = run(random, (hz) => sealed(hz) + notch(hz, 57, 12, 0.06));
    const found = findRoomFeatures([curve]);
    expect(found).toHaveLength(1);
    const [dip] = found;
    expect(dip).toMatchObject({ kind: 'dip', seenIn: 1, of: 1, caveats: [] });
    expect(octavesApart(dip.frequencyHz, 57)).toBeLessThan(0.01);
    // smoothing over 1/24 octave fills a dip of 0.12 octave by about 1 dB
    expect(dip.prominenceDb).toBeGreaterThan(10);
    expect(dip.prominenceDb).toBeLessThan(12.5);
    expect(dip.widthOctaves).toBeGreaterThan(0.08);
    expect(dip.widthOctaves).toBeLessThan(0.2);
    expect(dip.cause.type).toBe('unexplained');
  });

  it('are none of a flat unit in free air, however noisy', () => {
    for (let seed = 0; seed < 30; seed++) {
      const random = randomFrom(seed);
      const frequencyHz = seed % 2 ? linearGrid(0.37, 5, 400) : grid;
      const noiseDb = -random.between(20, 50);
      const runs = [0, 3, 6].map((driveDb) => run(random, () => 0, { frequencyHz, noiseDb, driveDb, scatterDb: 0.2 }));
      expect(findRoomFeatures(runs)).toEqual([]);
    }
  });

  it('are none of the roll-offs and shelves of a unit', () => {
    for (let seed = 0; seed < 30; seed++) {
      const random = randomFrom(seed);
      const unit = drawUnit(random);
      const [hz0, gain] = [random.between(20, 60), random.between(-9, 9)];
      const shelf = (hz: number) => gain / (1 + (hz / hz0) ** 2);
      expect(findRoomFeatures([run(random, (hz) => unit(hz) + shelf(hz))])).toEqual([]);
    }
  });

  it('are none where a response has sunk into noise, with the noise known or not', () => {
    for (let seed = 0; seed < 20; seed++) {
      const random = randomFrom(seed);
      // 48 dB per octave below 40 Hz: from 20 Hz down nothing but noise
      const steep = (hz: number) => -10 * Math.log10(1 + (40 / hz) ** 16);
      const runs = [0, 3].map((driveDb) =>
        run(random, steep, { noiseDb: -30, driveDb, frequencyHz: logGrid(96, 6, 300) }),
      );
      const known = runs.map((curve) => makeCurve({ ...curve, noiseDb: curve.levelDb.map(() => -30) }));
      expect(findRoomFeatures(runs)).toEqual([]);
      expect(findRoomFeatures(known)).toEqual([]);
    }
  });

  it('are found on a roll-off that leaves them no shoulder', () => {
    const steep = (hz: number) => -10 * Math.log10(1 + (45 / hz) ** 8);
    const found = findRoomFeatures([run(randomFrom(3), (hz) => steep(hz) + notch(hz, 28, 9, 0.05))]);
    expect(found.map((feature) => feature.kind)).toEqual(['dip']);
    expect(octavesApart(found[0].frequencyHz, 28)).toBeLessThan(0.03);
  });

  it('say so where noise fills a dip', () => {
    const random = randomFrom(4);
    const levelDb = (hz: number) => notch(hz, 70, 40, 0.05);
    const [dip] = findRoomFeatures([0, 3].map((driveDb) => run(random, levelDb, { noiseDb: -22, driveDb })));
    expect(octavesApart(dip.frequencyHz, 70)).toBeLessThan(0.03);
    expect(dip.caveats.map(({ code, severity }) => [code, severity])).toContainEqual(['dip-in-noise', 'doubt']);
  });

  it('do not lie beyond the range, nor at the end of the data where a shoulder is missing', () => {
    const random = randomFrom(5);
    const levelDb = (hz: number) => notch(hz, 30, 10, 0.06) + notch(hz, 90, 10, 0.06);
    const found = (rangeHz?: [number, number], highHz = 400) =>
      findRoomFeatures([run(random, levelDb, { frequencyHz: logGrid(96, 6, highHz) })], { rangeHz }).filter(
        (f) => f.kind === 'dip',
      ).length;
    expect(found()).toBe(2);
    expect(found([40, 200])).toBe(1);
    expect(found(undefined, 91)).toBe(1);
  });

  it('leave nothing of a dip outside its mask', () => {
    // the window of a band fit is the wider for every dB that a mask leaves
    const random = randomFrom(6);
    const curve = run(random, (hz) => sealed(hz) + notch(hz, 57, 14, 0.05));
    const masksHz = findRoomFeatures([curve]).map((feature) => feature.maskHz);
    const plain = fitBand(curve, { heightDb: 4 });
    const masked = fitBand(curve, { heightDb: 4, masksHz });
    const unit = fitBand(run(random, sealed), { heightDb: 4 });
    expect(plain.octaves).toBeLessThan(unit.octaves - 1);
    expect(masked.octaves).toBeGreaterThan(unit.octaves - 0.1);
    expect(Math.log2(masksHz[0][1] / masksHz[0][0])).toBeLessThan(0.5);
  });

  it('are matched across units within a hertz or two, and counted', () => {
    const random = randomFrom(7);
    const devices = ['a', 'b', 'c', 'd'];
    const runs = devices.map((device, i) => {
      const unit = drawUnit(randomFrom(i));
      const own = device === 'c' ? (hz: number) => notch(hz, 140, 8, 0.05) : () => 0;
      return run(random, (hz) => unit(hz) + notch(hz, 44 + 0.4 * i, 10, 0.06) + own(hz), { device });
    });
    const dips = findRoomFeatures(runs).filter((feature) => feature.kind === 'dip');
    const [shared, single] = dips;
    expect(dips).toHaveLength(2);
    expect(shared).toMatchObject({ seenIn: 4, of: 4, cause: { type: 'signature' } });
    expect(Math.abs(shared.frequencyHz - 44.6)).toBeLessThan(0.5);
    expect(single).toMatchObject({ seenIn: 1, of: 4, cause: { type: 'unexplained' }, belongsTo: 'unit' });
    expect(shared.confidence).toBeGreaterThan(0.8);
    expect(single.confidence).toBeLessThan(0.3);
  });

  // Common practice, no source: a room's dips return within a hertz or two with every unit.
  it('that wander by a hertz from unit to unit are one', () => {
    const hz = Array.from({ length: 400 }, (_, i) => 8 * 2 ** (i / 80));
    const units = [46, 47, 48].map((at) =>
      makeCurve({
        frequencyHz: hz,
        levelDb: hz.map((f) => 80 - 12 * Math.exp(-((Math.log2(f / at) / 0.07) ** 2))),
        about: { device: `unit ${at}` },
      }),
    );
    const dips = findRoomFeatures(units).filter(({ kind }) => kind === 'dip');
    expect(dips).toHaveLength(1);
    expect(dips[0]).toMatchObject({ seenIn: 3, of: 3 });
    expect(Math.abs(dips[0].frequencyHz - 47)).toBeLessThan(0.2);
  });

  it('belong to the room with different units, and gain nothing from settings or rungs of one unit', () => {
    const random = randomFrom(8);
    const found = (abouts: { device?: string; setting?: string; driveDb?: number }[]) =>
      findRoomFeatures(abouts.map((about) => run(random, (hz) => notch(hz, 60, 10, 0.06), about)))[0];
    const alone = [
      found([{ device: 'a' }]),
      found([{ device: 'a' }, { device: 'a', driveDb: 3 }, { device: 'a', driveDb: 6 }]),
      found([
        { device: 'a', setting: 'x' },
        { device: 'a', setting: 'y' },
        { device: 'a', setting: 'z' },
      ]),
      found([{}, { device: 'a' }]),
    ];
    for (const { belongsTo, cause, confidence } of alone) {
      expect([belongsTo, cause.type, confidence]).toEqual(['unknown', 'unexplained', 0]);
    }
    const two = found([{ device: 'a' }, { device: 'b' }]);
    const three = found([{ device: 'a' }, { device: 'b' }, { device: 'c' }]);
    expect([two.belongsTo, two.cause.type]).toEqual(['room', 'signature']);
    expect(two.confidence).toBeGreaterThan(0.5);
    expect(three.confidence).toBeGreaterThan(two.confidence + 0.05);
  });

  it('belong to the unit where another one in the same place clearly lacks them, whatever is nearby', () => {
    for (let seed = 0; seed < 20; seed++) {
      const random = randomFrom(seed);
      const room = drawRoom(random);
      const path = transferDb(room, grid);
      const own = 35 * 2 ** random.between(0, 1.5);
      const units = ['a', 'b'].map((device) => {
        const unit = drawUnit(random);
        const notched = device === 'a' ? (hz: number) => notch(hz, own, 11, 0.08) : () => 0;
        return run(random, () => 0, { device, cleanDb: grid.map((hz, i) => path[i] + unit(hz) + notched(hz)) });
      });
      const wrong = drawRoom(randomFrom(seed + 500));
      for (const given of [undefined, room, wrong]) {
        const dip = findRoomFeatures(units, { room: given }).find(
          (f) => f.kind === 'dip' && octavesApart(f.frequencyHz, own) < 0.03 && f.seenIn === 1,
        );
        if (!dip) continue; // it has merged with one of the room's
        expect(dip.belongsTo).not.toBe('room');
      }
    }
    // without a room around them it is plain
    const bare = ['a', 'b'].map((device) =>
      run(randomFrom(1), (hz) => (device === 'a' ? notch(hz, 57, 10, 0.06) : 0), { device }),
    );
    expect(findRoomFeatures(bare)[0]).toMatchObject({ belongsTo: 'unit', cause: { type: 'unexplained' } });
    const moved = bare.map((curve) => ({ ...curve, about: { ...curve.about, position: `at ${curve.about.device}` } }));
    expect(findRoomFeatures(moved)[0].belongsTo).toBe('unknown');
  });

  it('keep two features apart that lie nearer than the tolerance', () => {
    const levelDb = (hz: number) => notch(hz, 20, 12, 0.03) + notch(hz, 21.6, 12, 0.03);
    const found = findRoomFeatures([run(randomFrom(9), levelDb, { frequencyHz: linearGrid(0.1, 6, 300) })]);
    expect(found.filter((feature) => feature.kind === 'dip')).toHaveLength(2);
  });

  it('are listed where the user says so', () => {
    const random = randomFrom(10);
    const curve = run(random, (hz) => notch(hz, 30.4, 10, 0.06) + notch(hz, 90, 10, 0.06));
    const causes = (listedHz: number[], toleranceHz?: number) =>
      findRoomFeatures([curve], { listedHz, toleranceHz })
        .filter((feature) => feature.kind === 'dip')
        .map((feature) => feature.cause.type);
    expect(causes([31.5])).toEqual(['listed', 'unexplained']);
    expect(causes([31.5], 0.5)).toEqual(['unexplained', 'unexplained']);
    expect(findRoomFeatures([curve], { listedHz: [31.5] })[0].cause.mismatchHz).toBeCloseTo(-1.1, 0);
  });

  it('are peaks of modes that are heard at the place, and of modes alone where no place is known', () => {
    const room: Room = {
      lengthM: 6.2,
      widthM: 4.3,
      heightM: 2.5,
      decayS: 0.6,
      source: [0.3, 0.4, 0.3],
      microphone: [5.6, 2.15, 1.2],
    };
    const [first] = roomModes(room, { toHz: 40 });
    const levels = transferDb(room, grid);
    const curve = run(randomFrom(11), sealed, { cleanDb: grid.map((hz, i) => levels[i] + sealed(hz)) });
    const peakAt = (options: Parameters<typeof findRoomFeatures>[1]) =>
      findRoomFeatures([curve], options).find(
        (feature) => feature.kind === 'peak' && octavesApart(feature.frequencyHz, first.frequencyHz) < 0.08,
      )!;
    const placed = peakAt({ room });
    const alone = peakAt({ room: { ...room, source: undefined, microphone: undefined } });
    expect(placed.cause).toMatchObject({ type: 'mode', predictedHz: first.frequencyHz });
    expect(placed.cause.detail).toBe(`axial mode (1,0,0) at ${first.frequencyHz.toFixed(1)} Hz`);
    expect(alone.cause.type).toBe('mode');
    expect(alone.confidence).toBeLessThan(placed.confidence);
    expect(peakAt({}).cause.type).toBe('unexplained');
    // half way across the width nothing of (0, 1, 0) is heard, so no peak may be blamed on it
    const blamed = findRoomFeatures([curve], { room }).map((feature) => feature.cause.detail ?? '');
    expect(blamed.filter((detail) => detail.startsWith('axial mode (0,1,0)'))).toEqual([]);
  });

  it('name a boundary where modes are crowded and one reflection rules', () => {
    // a large dead hall: the floor is the one reflection that matters
    const room: Room = {
      lengthM: 28,
      widthM: 24,
      heightM: 14,
      decayS: 0.25,
      source: [12, 12, 1.5],
      microphone: [16, 12, 1.5],
    };
    const levels = transferDb(room, grid);
    const curve = run(randomFrom(12), () => 0, { cleanDb: levels });
    const features = findRoomFeatures([curve], { room, minProminenceDb: 3 });
    const boundaries = features.filter((feature) => feature.cause.type === 'boundary');
    expect(boundaries.some((feature) => feature.cause.detail?.includes('floor'))).toBe(true);
  });

  it('take curves on unlike grids, of 50 or 65,536 points, starting anywhere', () => {
    const random = randomFrom(13);
    const levelDb = (hz: number) => sealed(hz) + notch(hz, 62, 14, 0.12);
    const grids = [logGrid(10, 2, 60 * 2 ** 2.1), linearGrid(500 / 65536, 2, 500), linearGrid(0.7, 12, 300)];
    const runs = grids.map((frequencyHz, i) => run(random, levelDb, { frequencyHz, driveDb: 3 * i, device: `${i}` }));
    const dips = findRoomFeatures(runs).filter((feature) => feature.kind === 'dip');
    expect(dips).toHaveLength(1);
    expect(octavesApart(dips[0].frequencyHz, 62)).toBeLessThan(0.04);
    expect(dips[0]).toMatchObject({ seenIn: 3, of: 3 });
  });

  it('leave the curves as they were and pass over noise runs', () => {
    const curve = run(randomFrom(14), (hz) => notch(hz, 60, 10, 0.06));
    const before = structuredClone(curve);
    const noise = makeCurve({ ...curve, role: 'noise', levelDb: curve.levelDb.map(() => -50) });
    expect(findRoomFeatures([curve, noise])[0]).toMatchObject({ seenIn: 1, of: 1 });
    expect(curve).toEqual(before);
  });

  it('are refused without a response or with senseless options, and none of a curve outside the range', () => {
    const curve = run(randomFrom(15), () => 0, { frequencyHz: logGrid(24, 1000, 4000) });
    expect(findRoomFeatures([curve])).toEqual([]);
    expect(() => findRoomFeatures([])).toThrow(expect.objectContaining({ code: 'no-curves' }));
    const bad = (options: object) => () => findRoomFeatures([curve], options);
    expect(bad({ minProminenceDb: 0 })).toThrow(expect.objectContaining({ field: 'minProminenceDb' }));
    expect(bad({ toleranceHz: -1 })).toThrow(expect.objectContaining({ field: 'toleranceHz' }));
    expect(bad({ listedHz: [Number.NaN] })).toThrow(expect.objectContaining({ field: 'listedHz' }));
    expect(bad({ rangeHz: [200, 15] })).toThrow(expect.objectContaining({ field: 'rangeHz' }));
    expect(bad({ room: { lengthM: 5, widthM: 4 } })).toThrow(expect.objectContaining({ field: 'heightM' }));
  });
});
