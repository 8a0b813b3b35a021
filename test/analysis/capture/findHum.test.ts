import { describe, expect, it } from 'vitest';
import { findHum } from '../../../lib/analysis/capture/findHum';
import { type Random, randomFrom } from '../../../lib/rig/random';

// Known by construction: sines of known level in noise.

const RATE = 8000;

/** Noise whose spectrum is flat, or falls by 6 or 12 dB per octave above a few hertz; about -60 dBFS. */
function noise(random: Random, seconds: number, kind: 'flat' | 'falling' | 'steep'): Float64Array {
  let once = 0;
  let twice = 0;
  return Float64Array.from({ length: Math.round(seconds * RATE) }, () => {
    const flat = random.normal();
    once += 0.004 * (flat - once);
    twice += 0.004 * (once - twice);
    return { flat: 1e-3 * flat, falling: 2e-2 * once, steep: 6e-2 * twice }[kind];
  });
}

function plus(samples: Float64Array, lines: { hz: number; db: number }[]): Float64Array {
  return samples.map((x, n) =>
    lines.reduce((sum, { hz, db }, i) => sum + 10 ** (db / 20) * Math.sin((2 * Math.PI * hz * n) / RATE + i + 1), x),
  );
}

const NOISES = ['flat', 'falling', 'steep'] as const;

describe('mains hum', () => {
  it.each([1, 1.7, 5].flatMap((seconds) => NOISES.map((kind) => ({ seconds, kind }))))(
    'is found with its level within 1 dB: $seconds s of $kind noise',
    ({ seconds, kind }) => {
      for (let seed = 0; seed < 8; seed++) {
        const random = randomFrom([seed, 'hum', kind]);
        const mains = random.pick([50, 60]) + random.between(-0.5, 0.5);
        const lines = [1, 2, 3, 5].map((order) => ({ hz: order * mains, db: random.between(-58, -30) }));
        const found = findHum(plus(noise(random, seconds, kind), lines), RATE);
        expect(found.length, `seed ${seed}`).toBe(4);
        found.forEach(({ frequencyHz, levelDb }, i) => {
          expect(Math.abs(frequencyHz - lines[i].hz)).toBeLessThan(0.3 / Math.min(seconds, 4));
          expect(Math.abs(levelDb - lines[i].db), `seed ${seed}, ${lines[i].hz} Hz`).toBeLessThan(1);
        });
      }
    },
  );

  it('is not found in noise alone', () => {
    let alarms = 0;
    for (let seed = 0; seed < 300; seed++) {
      const random = randomFrom([seed, 'noise alone']);
      const samples = noise(random, random.pick([0.5, 1, 2, 4]), NOISES[seed % 3]);
      if (findHum(samples, RATE).length > 0) alarms++;
    }
    expect(alarms).toBeLessThanOrEqual(1);
  });

  it('is not what a tone is called that is no multiple of the mains frequency', () => {
    const random = randomFrom(['tones']);
    for (let hz = 12; hz < 420; hz += random.between(0.5, 7)) {
      const nearest = Math.min(...[50, 60].map((mains) => Math.abs(hz - mains * Math.max(1, Math.round(hz / mains)))));
      if (nearest < 1.2) continue;
      const samples = plus(noise(random, 1, 'flat'), [{ hz, db: random.between(-40, 0) }]);
      expect(findHum(samples, RATE), `${hz} Hz`).toEqual([]);
    }
  });

  it('is found at 1 s of 48 kHz without any noise, and its multiples of either mains are told apart', () => {
    const at = (lines: number[]) =>
      findHum(
        Float64Array.from({ length: 48000 }, (_, n) =>
          lines.reduce((sum, hz) => sum + 0.001 * Math.sin((2 * Math.PI * hz * n) / 48000), 0),
        ),
        48000,
      );
    expect(at([50])).toHaveLength(1);
    expect(at([50])[0].levelDb).toBeCloseTo(-60, 2);
    expect(at([60, 300]).map(({ frequencyHz }) => Math.round(frequencyHz))).toEqual([60, 300]);
    expect(at([100])).toHaveLength(1);
    expect(at([])).toEqual([]);
  });

  it('is not looked for in too short a silence, nor are samples changed', () => {
    const samples = plus(new Float64Array(RATE), [{ hz: 50, db: -40 }]);
    const copy = samples.slice();
    expect(findHum(samples.subarray(0, 0.3 * RATE), RATE)).toEqual([]);
    expect(findHum(samples, RATE)).toHaveLength(1);
    expect(findHum(Float32Array.from(samples), RATE)[0].levelDb).toBeCloseTo(-40, 2);
    expect(samples).toEqual(copy);
    expect(findHum([], RATE)).toEqual([]);
  });
});
