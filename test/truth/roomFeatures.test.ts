import { afterAll, describe, it } from 'vitest';
import { findRoomFeatures } from '../../lib';
import { drawRig } from '../../lib/rig/drawRig';
import { gridFrequencies } from '../../lib/rig/gridFrequencies';
import { roomDipTruth } from '../../lib/rig/roomDipTruth';
import { type Case, drawnRigs, openCase, snrOver } from './rigs';
import { Worst } from './worst';

const worst = new Worst();
const PLACE = 'dip of the room, octaves';
const FOUND = 'dips of 6 dB and more are found';
const NONE_FALSE = 'no dip where the room has none';
const UNCOLOURED = 'free field has no dips';

const octaves = (a: number, b: number) => Math.abs(Math.log2(a / b));

/** The session's two settings and another unit in the same place, each at a rung where nothing is limited. */
function curvesOf(c: Case) {
  const other = openCase({
    name: 'another unit',
    rig: { ...c.rig, seed: c.rig.seed + 1000, unit: drawRig(c.rig.seed + 1000).unit },
  });
  return [
    c.runWithNoise(0, c.cleanRung),
    c.runWithNoise(1, c.cleanRung),
    other.runWithNoise(0, Math.max(0, other.cleanRung)),
  ];
}

function check(c: Case): void {
  if (c.cleanRung < 0) return;
  const found = findRoomFeatures(curvesOf(c), { ...(c.rig.room && { room: c.rig.room }) }).filter(
    ({ kind, frequencyHz }) => kind === 'dip' && frequencyHz > 15 && frequencyHz < 200,
  );
  const snrAt = (hz: number) =>
    snrOver(
      c,
      0,
      c.cleanRung,
      [0.94, 1, 1.06].map((x) => x * hz),
    );
  if (!c.rig.room) {
    for (const dip of found) {
      if (Math.min(...snrAt(dip.frequencyHz)) > 20) worst.must(UNCOLOURED, false, `${c.name}, ${dip.frequencyHz} Hz`);
    }
    worst.must(UNCOLOURED, true, c.name);
    return;
  }
  const spacing = (hz: number) => {
    const grid = gridFrequencies(c.rig.grid);
    const above = grid.findIndex((f) => f > hz);
    return above > 0 ? octaves(grid[above], grid[above - 1]) : Number.POSITIVE_INFINITY;
  };
  const dips = roomDipTruth(c.rig, [14, 210], { minProminenceDb: 1.5 });
  const through = roomDipTruth(c.rig, [14, 210], { minProminenceDb: 1.5, seenThrough: true });
  for (const dip of dips) {
    const { frequencyHz: hz, prominenceDb, floorOctaves } = dip;
    if (hz < 15 || hz > 195 || prominenceDb < 6) continue; // one at the very end may be seen beyond it
    // the preconditions: it has one lowest point, the unit's own slope does not move it, the grid can show it and the
    // noise does not fill it
    if (floorOctaves > 0.04) continue;
    const moved = Math.min(...through.map((seen) => (seen.prominenceDb > 5 ? octaves(seen.frequencyHz, hz) : 1)));
    if (moved > 0.02 || spacing(hz) > 1 / 24 || Math.min(...snrAt(hz)) < 20) continue;
    const nearest = Math.min(...found.map((f) => octaves(f.frequencyHz, hz)));
    const where = `${c.name}, ${hz.toFixed(1)} Hz (${prominenceDb.toFixed(0)} dB)`;
    worst.must(FOUND, nearest < 0.12, where);
    if (nearest < 0.12) worst.add(PLACE, nearest, 0.04, where);
  }
  for (const { frequencyHz: hz, seenIn, of } of found) {
    if (Math.min(...snrAt(hz)) < 20 || spacing(hz) > 1 / 24) continue;
    const nearest = Math.min(...[...dips, ...through].map((dip) => octaves(dip.frequencyHz, hz)));
    worst.must(NONE_FALSE, nearest < 0.08, `${c.name}, ${hz.toFixed(1)} Hz, seen in ${seenIn} of ${of}`);
  }
}

describe('the room features of drawn rigs', () => {
  for (const drawn of drawnRigs()) it(`are read from ${drawn.name}`, () => check(openCase(drawn)));

  it("has the room's dips within 0.04 octave", () => {
    worst.hold(PLACE, 40);
    worst.hold(FOUND, 40);
  });
  it('shows none that the room does not have', () => {
    worst.hold(NONE_FALSE, 40);
    worst.hold(UNCOLOURED, 2);
  });

  afterAll(() => worst.print('Room features: worst errors against the truth of the drawn rigs'));
});
