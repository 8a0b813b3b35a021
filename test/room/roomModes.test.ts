import { describe, expect, it } from 'vitest';
import { modeCount } from '../../lib/room/modeCount';
import { roomModes } from '../../lib/room/roomModes';
import { schroederFrequency } from '../../lib/room/schroederFrequency';

// temperature at which the speed of sound is 340 m/s
const temperatureC = 273.15 * ((340 / 331.3) ** 2 - 1);

describe('the modes of a room', () => {
  it('are those of the worked example of 4.7 x 4.1 x 3.1 m at 340 m/s', () => {
    // H. Kuttruff, Room Acoustics, the table of the first eigenfrequencies of a rectangular room (from memory)
    const table: [number, string][] = [
      [36.17, '1 0 0'],
      [41.46, '0 1 0'],
      [54.84, '0 0 1'],
      [55.02, '1 1 0'],
      [65.69, '1 0 1'],
      [68.75, '0 1 1'],
      [72.34, '2 0 0'],
      [77.68, '1 1 1'],
      [82.93, '0 2 0'],
      [83.38, '2 1 0'],
      [90.47, '1 2 0'],
      [90.78, '2 0 1'],
      [99.42, '0 2 1'],
      [99.8, '2 1 1'],
      [105.79, '1 2 1'],
      [108.51, '3 0 0'],
      [109.68, '0 0 2'],
      [110.05, '2 2 0'],
      [115.49, '1 0 2'],
      [116.16, '3 1 0'],
    ];
    const modes = roomModes({ lengthM: 4.7, widthM: 4.1, heightM: 3.1, temperatureC }, { toHz: 116.2 });
    expect(modes.map((mode) => mode.order.join(' '))).toEqual(table.map(([, order]) => order));
    modes.forEach((mode, i) => {
      expect(Math.abs(mode.frequencyHz - table[i][0])).toBeLessThan(0.01);
    });
  });

  it('are all there, once each, rising, and named by how many axes they use', () => {
    const modes = roomModes({ lengthM: 7, widthM: 4, heightM: 2.5, temperatureC }, { toHz: 200 });
    const expected = new Map<string, number>();
    for (let n = 0; n < 20; n++) {
      for (let m = 0; m < 20; m++) {
        for (let l = 0; l < 20; l++) {
          const hz = 170 * Math.sqrt((n / 7) ** 2 + (m / 4) ** 2 + (l / 2.5) ** 2); // closed form
          if (hz > 0 && hz <= 200) expected.set([n, m, l].join(' '), hz);
        }
      }
    }
    expect(modes).toHaveLength(expected.size);
    for (const [i, { frequencyHz, order, kind }] of modes.entries()) {
      expect(frequencyHz).toBeCloseTo(expected.get(order.join(' '))!, 9);
      expect(frequencyHz).toBeGreaterThanOrEqual(modes[Math.max(0, i - 1)].frequencyHz);
      expect(kind).toBe(['axial', 'tangential', 'oblique'][order.filter((n) => n > 0).length - 1]);
    }
  });

  it('are refused where there are too many to list', () => {
    const room = { lengthM: 6, widthM: 4.5, heightM: 2.5 };
    expect(() => roomModes(room, { toHz: 20000 })).toThrow(expect.objectContaining({ code: 'too-many-modes' }));
    expect(() => roomModes(room, { toHz: Number.POSITIVE_INFINITY })).toThrow(/above 0/);
    expect(() => roomModes(room, { toHz: -5 })).toThrow(expect.objectContaining({ field: 'toHz' }));
  });
});

describe('the estimated number of modes', () => {
  it.each([
    { lengthM: 6, widthM: 4.5, heightM: 2.5 },
    { lengthM: 9, widthM: 5.2, heightM: 3.1 },
  ])('is near the true count: %j', (room) => {
    for (const toHz of [100, 200, 400]) {
      const true_ = roomModes(room, { toHz }).length;
      expect(Math.abs(modeCount(room, toHz) - true_)).toBeLessThan(2 + 0.03 * true_);
    }
  });
});

describe('the Schroeder frequency', () => {
  it('is 2000 sqrt(T / V)', () => {
    expect(schroederFrequency({ lengthM: 5, widthM: 4, heightM: 2.5, decayS: 0.5 })).toBeCloseTo(200, 9);
  });
});
