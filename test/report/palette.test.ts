import { describe, expect, it } from 'vitest';
import {
  DARK,
  HEAT_LIMITS_DB,
  heatIndex,
  LIGHT,
  PAPER,
  type Palette,
  rampIndex,
} from '../../lib/report/charts/palette';

// Relative luminance and contrast ratio: W3C, Web Content Accessibility Guidelines 2.2, "relative luminance" and
// "contrast ratio" (definitions); limits 4.5:1 for text (success criterion 1.4.3), 3:1 for graphics (1.4.11).
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
}

// Viénot, Brettel, Mollon (1999), "Digital video colourmaps for checking the legibility of displays by dichromats":
// the matrices for protanopes and deuteranopes on linear RGB, from memory.
const DICHROMATS = {
  protanope: [
    [0.11238, 0.88762, 0],
    [0.11238, 0.88762, 0],
    [0.00401, -0.00401, 1],
  ],
  deuteranope: [
    [0.29275, 0.70725, 0],
    [0.29275, 0.70725, 0],
    [-0.02234, 0.02234, 1],
  ],
};

function seenBy(matrix: number[][], hex: string): number[] {
  const linear = [1, 3, 5].map((at) => (Number.parseInt(hex.slice(at, at + 2), 16) / 255) ** 2.2);
  return matrix.map((row) => Math.max(0, row[0] * linear[0] + row[1] * linear[1] + row[2] * linear[2]) ** (1 / 2.2));
}

describe.each<[string, Palette]>([
  ['light', LIGHT],
  ['dark', DARK],
  ['paper', PAPER],
])('the %s palette', (_, palette) => {
  it('checks contrast with a formula that gives 21:1 for black on white, as published', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2); // worked in many guides; just misses 4.5
  });

  it('has text and lines that are also used for lettering at 4.5:1 or more on the page', () => {
    for (const colour of [palette.ink, palette.muted, palette.windowEdge, ...palette.lines]) {
      expect(contrast(colour, palette.paper)).toBeGreaterThanOrEqual(4.5);
    }
    for (const area of [palette.dip, palette.peak, palette.window]) {
      expect(contrast(palette.ink, area)).toBeGreaterThanOrEqual(4.5);
    }
  });

  it('has graphics at 3:1 or more, also the faintest rung and on shaded areas', () => {
    for (const colour of [palette.axis, ...palette.ramp]) {
      expect(contrast(colour, palette.paper)).toBeGreaterThanOrEqual(3);
    }
    for (const area of [palette.dip, palette.peak]) {
      for (const colour of [...palette.lines, palette.windowEdge])
        expect(contrast(colour, area)).toBeGreaterThanOrEqual(3);
    }
  });

  it('has numbers on every heat colour at 4.5:1 or more', () => {
    palette.heat.forEach((colour, k) => {
      expect(contrast(palette.heatInk[k], colour)).toBeGreaterThanOrEqual(4.5);
    });
  });

  it('has ramp and heat colours of steadily changing lightness, so that they survive a grey print', () => {
    const direction = palette === DARK ? 1 : -1;
    for (const colours of [palette.ramp, palette.heat.slice(1)]) {
      colours.forEach((colour, k) => {
        if (k > 0) expect(direction * (luminance(colour) - luminance(colours[k - 1]))).toBeGreaterThan(0);
      });
    }
  });

  it('keeps its line colours apart for red-blind and green-blind eyes', () => {
    for (const matrix of Object.values(DICHROMATS)) {
      palette.lines.forEach((a, i) => {
        palette.lines.slice(i + 1).forEach((b) => {
          const [x, y] = [seenBy(matrix, a), seenBy(matrix, b)];
          const distance = Math.hypot(...x.map((value, k) => value - y[k]));
          expect(distance, `${a} and ${b}`).toBeGreaterThan(0.15);
        });
      });
    }
  });

  it('uses each colour for one purpose only, so that a drawn colour tells its purpose', () => {
    const all = Object.values(palette).flat();
    expect(new Set(all).size).toBe(all.length);
  });
});

describe('colour scales', () => {
  it('tell expansion, nothing lost, and each step of loss', () => {
    expect(heatIndex(-2)).toBe(0);
    expect(heatIndex(0)).toBe(1);
    expect(heatIndex(0.5)).toBe(2);
    expect(heatIndex(25)).toBe(LIGHT.heat.length - 1);
    expect(LIGHT.heat).toHaveLength(HEAT_LIMITS_DB.length + 1);
    expect(DARK.heat).toHaveLength(HEAT_LIMITS_DB.length + 1);
  });

  it('spread any number of rungs over the whole ramp', () => {
    expect(rampIndex(0, 22)).toBe(0);
    expect(rampIndex(21, 22)).toBe(8);
    expect(rampIndex(0, 1)).toBe(8);
  });
});
