import { describe, expect, it } from 'vitest';
import { boundaryCancellations } from '../../lib/room/boundaryCancellations';
import { predictTransfer } from '../../lib/room/predictTransfer';
import type { Room } from '../../lib/room/room';
import { speedOfSound } from '../../lib/room/speedOfSound';

describe('boundary cancellations', () => {
  it('lie where the detour is half a wavelength and its odd multiples', () => {
    // 3-4-5 triangle: source and microphone 1.5 m above the floor and 4 m apart, reflected path 5 m, detour 1 m
    const room: Room = { lengthM: 90, widthM: 80, heightM: 40, source: [43, 40, 1.5], microphone: [47, 40, 1.5] };
    const floor = boundaryCancellations(room, { toHz: 900 }).filter((one) => one.boundary === 'floor');
    const half = speedOfSound() / 2;
    floor.forEach((one, i) => {
      expect(one.frequencyHz).toBeCloseTo(half * (2 * i + 1), 6);
    });
    expect(floor).toHaveLength(3);
    expect(floor[0].pathDifferenceM).toBeCloseTo(1, 12);
    expect(floor[0].levelDb).toBeCloseTo(20 * Math.log10(1 - 4 / 5), 9);
  });

  it('do not come from a boundary that the source touches', () => {
    const room: Room = { lengthM: 6, widthM: 5, heightM: 3, source: [0, 1, 0], microphone: [3, 2, 1.2] };
    const names = boundaryCancellations(room, { toHz: 300 }).map((one) => one.boundary);
    expect(names).not.toContain('floor');
    expect(names).not.toContain('wall at length 0');
    expect(names).toContain('ceiling');
  });

  it('are what a large, dead room shows', () => {
    // 0.1 s in 60 x 50 x 30 m leaves the floor as the one reflection that matters: a dip of the full transfer there
    const room: Room = {
      lengthM: 60,
      widthM: 50,
      heightM: 30,
      decayS: 0.1,
      source: [28, 25, 1.5],
      microphone: [32, 25, 1.5],
    };
    const [floor] = boundaryCancellations(room, { toHz: 200 }).filter((one) => one.boundary === 'floor');
    const hz = Array.from({ length: 121 }, (_, i) => 140 + 0.5 * i);
    const { levelDb } = predictTransfer(room, hz);
    const lowest = hz[levelDb.indexOf(Math.min(...levelDb))];
    expect(Math.abs(lowest / floor.frequencyHz - 1)).toBeLessThan(0.03);
  });
});
