import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { describe, expect, it } from 'vitest';
import { importText } from '../../lib/import/importText';
import { BassloomError } from '../../lib/model/errors';
import { makeCurve } from '../../lib/model/makeCurve';
import { correctMicrophone } from '../../lib/response/correctMicrophone';
import { type Random, randomFrom } from '../../lib/rig/random';

/** A correction as microphones come with them: level, and phase with some, in several manners of writing. */
function correction(manner: number): string {
  const decimal = (value: number) => (manner % 3 === 1 ? value.toFixed(2).replace('.', ',') : value.toFixed(2));
  const between = [',', ';', '\t', '   '][manner % 4 === 0 && manner % 3 === 1 ? 1 : manner % 4];
  const withPhase = manner % 2 === 1;
  const rows = Array.from({ length: 14 }, (_, i) => {
    const hz = 5 * 1.4 ** i;
    const cells = [hz, -8 / (1 + (hz / 9) ** 2) + 0.2 * Math.sin(i)];
    if (withPhase) cells.push((Math.atan2(9, hz) * 180) / Math.PI);
    return cells.map(decimal).join(between);
  });
  const heading = ['Frequency (Hz)', 'Level (dB)', ...(withPhase ? ['Phase (deg)'] : [])].join(between);
  const remarks = ['"Sensitivity -12,3 dB, serial 0042"', '* measured at 0 degrees', '# 23 C', ''];
  return [remarks[manner % 4], ...(manner % 5 < 3 ? [heading] : []), ...rows, ''].join(manner % 2 ? '\r\n' : '\n');
}

const SEEDS = Array.from({ length: 24 }, (_, manner) => correction(manner));
const SCRAPS = [
  ...',;\t \n\r"\'#*/-+.eE:%\0',
  '""',
  '\r\n\r\n',
  '\u2212',
  '\u00a0',
  '\ufeff',
  '\ufffd',
  '1e309',
  '-1e-320',
  '9999999999999999999999',
  'NaN',
  'inf',
  '1.234,5',
  '1,234.5',
  '0',
  '-20',
  'kHz',
  'dB SPL',
  'degrees',
  'Phase',
  '__proto__',
  '<html>',
  '{"a":',
];

/** A copy with one to eight things wrong. */
function mutate(seed: string, random: Random): string {
  let text = seed;
  const below = (end: number) => Math.floor(random.uniform() * end);
  const put = (at: number, take: number, what: string) => {
    text = text.slice(0, at) + what + text.slice(at + take);
  };
  const place = () => below(text.length + 1);
  const lines = () => text.split('\n');
  const wrongs: (() => void)[] = [
    () => put(place(), below(4), random.pick(SCRAPS)),
    () => put(place(), 1, String.fromCharCode(below(random.uniform() < 0.9 ? 256 : 65536))),
    () => put(place(), below(80), ''),
    () => put(place(), 0, text.slice(place()).slice(0, below(200))),
    () => put(below(text.length), text.length, ''),
    () => {
      text = text.replaceAll(random.pick([',', ';', '\t', '.', '\n', '0', '-', ' ']), random.pick(SCRAPS));
    },
    () => {
      text = lines()
        .sort(() => random.uniform() - 0.5)
        .join('\n');
    },
    () => {
      const scrap = random.pick(SCRAPS);
      text = lines()
        .map((line) => (random.uniform() < 0.3 ? line + scrap : line))
        .join('\n');
    },
    () => {
      text = text.repeat(1 + below(4)).slice(0, 2000);
    },
  ];
  for (let i = below(8); i >= 0; i--) random.pick(wrongs)();
  return text;
}

const response = makeCurve({
  frequencyHz: [1, 4, 20, 80, 900],
  levelDb: [50, 60, 80, 90, 85],
  phaseDeg: [170, 90, 10, -60, -170],
});

/** Reads and applies it, or says with which code it was refused; whatever else happens fails the test. */
function readOrRefuse(source: string | Uint8Array): string {
  try {
    const { curve, notes } = importText(source, { role: 'correction' });
    expect(curve.role).toBe('correction');
    expect(curve.frequencyHz.length).toBeLessThanOrEqual(source.length);
    expect(notes.every((note) => note.message.length < 2000)).toBe(true);
    const corrected = correctMicrophone(response, curve);
    for (const column of [corrected.levelDb, corrected.phaseDeg ?? []])
      expect(column.every(Number.isFinite)).toBe(true);
    return curve.phaseDeg ? 'with phase' : 'level alone';
  } catch (error) {
    if (!(error instanceof BassloomError)) throw error;
    expect(error.code).toMatch(/^[a-z-]+$/);
    expect(error.message.length).toBeLessThan(3000);
    return error.code;
  }
}

describe('3,000 damaged microphone corrections', () => {
  it('are each read and applied, or refused with a code, in little memory', () => {
    expect(SEEDS.map((seed) => readOrRefuse(seed))).toEqual(
      SEEDS.map((_, manner) => (manner % 2 ? 'with phase' : 'level alone')),
    );
    const random = randomFrom(['damaged corrections']);
    const outcomes = new Map<string, number>();
    setFlagsFromString('--expose-gc');
    const collect = runInNewContext('gc') as () => void;
    collect();
    const before = process.memoryUsage();
    for (let i = 0; i < 3000; i++) {
      const text = mutate(SEEDS[i % SEEDS.length], random);
      const encoding = random.pick(['utf8', 'utf16le', 'latin1'] as const);
      const outcome = readOrRefuse(i % 3 === 0 ? Buffer.from(text, encoding) : text);
      outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
    }
    collect();
    const after = process.memoryUsage();
    expect(after.heapUsed + after.arrayBuffers - before.heapUsed - before.arrayBuffers).toBeLessThan(30e6);
    // the damage must reach both ways of reading and many ways out, or it tests little
    for (const way of ['with phase', 'level alone']) expect(outcomes.get(way) ?? 0, way).toBeGreaterThan(150);
    expect(outcomes.size, [...outcomes.keys()].join(' ')).toBeGreaterThan(7);
  });
});
