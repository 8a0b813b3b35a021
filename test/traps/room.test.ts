import { describe, expect, it } from 'vitest';
import type { RoomFeature } from '../../lib';
import { summary } from './sessions';
import { type Box, boxLevel, describeBox, drawBox } from './simulatedRoom';
import { randomOf, simulateNoise, simulateSession } from './simulatedSession';

const DRIVES = [0, 3, 6];
const near = (a: number, b: number, octaves: number) => Math.abs(Math.log2(a / b)) < octaves;
const dip = (hz: number, at: number, db: number, octaves: number) =>
  db / (1 + (Math.log2(hz / at) / (octaves / 2)) ** 2);

/** One unit in a room, judged with the description of a room, which need not be the same. */
function judgedIn(box: Box, told: Box, seed: number, ownDb: (hz: number) => number = () => 0) {
  const level = boxLevel(box);
  const session = { seed, points: 300, toHz: 200, drivesDb: DRIVES, scatterDb: 0.1 };
  const runs = simulateSession({ ...session, extraDb: (hz) => level(hz) + ownDb(hz) });
  return { ...summary([...runs, simulateNoise(session)], { room: describeBox(told) }), level };
}

/** Lows of the room's own transfer, 6 dB and more below what lies a third of an octave to either side, Hz. */
function lowsOf(level: (hz: number) => number): number[] {
  const grid = Array.from({ length: 240 }, (_, i) => 20 * 2 ** (i / 96));
  const db = grid.map(level);
  return grid.filter((_, i) => {
    if (i < 32 || i > grid.length - 33) return false;
    const around = db.slice(i - 32, i + 33);
    return (
      db[i] === Math.min(...around) &&
      Math.min(Math.max(...around.slice(0, 32)), Math.max(...around.slice(33))) > db[i] + 6
    );
  });
}

const dips = (features: RoomFeature[]) => features.filter(({ kind }) => kind === 'dip');

describe('a unit in a room that is described', () => {
  const boxes = Array.from({ length: 8 }, (_, seed) => drawBox(randomOf(100 + seed)));

  it('has the dips of the room called the room’s, and left out', () => {
    let [lows, found, told] = [0, 0, 0];
    for (const [seed, box] of boxes.entries()) {
      const { findings, level, headlines } = judgedIn(box, box, seed);
      for (const hz of lowsOf(level)) {
        lows++;
        const feature = dips(findings.roomFeatures!).find(({ frequencyHz }) => near(frequencyHz, hz, 0.06));
        if (feature?.belongsTo === 'room') found++;
      }
      if (headlines.includes('room-dips')) told++;
      const own = dips(findings.roomFeatures!).filter(({ belongsTo }) => belongsTo === 'unit');
      expect(own).toEqual([]);
    }
    expect(lows).toBeGreaterThan(8);
    expect(found / lows).toBeGreaterThan(0.9);
    expect(told).toBeGreaterThan(boxes.length / 2);
  });

  it('keeps its own dips beside a mode of the room: none is the room’s, masked or told as such', () => {
    let own = 0;
    for (const [seed, box] of boxes.entries()) {
      const random = randomOf(500 + seed);
      const level = boxLevel(box);
      const lows = lowsOf(level);
      // an axial mode of the length or the width, or its double, where the room itself has no dip
      const modes = [0, 1].flatMap((i) => [1, 2].map((n) => (n * 343) / (2 * box.sizeM[i])));
      const at = modes
        .map((hz) => hz * 2 ** (0.04 * (random() - 0.5)))
        .find((hz) => hz > 25 && hz < 110 && !lows.some((low) => near(low, hz, 0.3)));
      if (at === undefined) continue;
      own++;
      const { findings, verdict } = judgedIn(box, box, seed, (hz) => dip(hz, at, -12, 0.12));
      const feature = dips(findings.roomFeatures!).find(({ frequencyHz }) => near(frequencyHz, at, 0.05));
      expect(feature?.belongsTo).not.toBe('room');
      for (const { masksHz } of findings.bandFit!)
        expect(masksHz.some(([low, high]) => at > low && at < high)).toBe(false);
      const blamed = verdict.filter((text) => /belongs? to the room/.test(text)).join(' ');
      for (const [, hz] of blamed.matchAll(/(\d+(?:\.\d)?)(?=[,\s]|\u00a0Hz)/g))
        expect(near(Number(hz), at, 0.03) ? `${at}: ${blamed}` : '').toBe('');
    }
    expect(own).toBeGreaterThan(4);
  });

  it('has next to nothing explained by a room that is another one', () => {
    let [features, explained] = [0, 0];
    for (const [seed, box] of boxes.entries()) {
      const { findings } = judgedIn(box, drawBox(randomOf(900 + seed)), seed);
      features += findings.roomFeatures!.length;
      explained += findings.roomFeatures!.filter(({ belongsTo }) => belongsTo === 'room').length;
    }
    expect(features).toBeGreaterThan(20);
    expect(explained).toBeLessThanOrEqual(0.1 * features);
  });
});
