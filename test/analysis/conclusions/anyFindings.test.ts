import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conclude } from '../../../lib/analysis/conclusions/conclude';
import type { Curve } from '../../../lib/model/curve';
import type { Findings, Ladder } from '../../../lib/model/findings';
import { findingsSchema } from '../../../lib/model/schemas';
import {
  BANDS_HZ,
  bandFitOf,
  capture,
  DEVICE,
  difference,
  distortionOf,
  feature,
  ladderOf,
  nearNoise,
  outputOf,
  rollOff,
  run,
} from './session';
import { expectSound, wordsIn } from './wording';

const hz = fc.double({ min: 5, max: 300, noNaN: true });
const db = fc.double({ min: -130, max: 130, noNaN: true });
const maybe = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: null });
const range = fc.tuple(hz, hz).map(([a, b]): [number, number] => [Math.min(a, b), Math.max(a, b) + 1]);
const severity = fc.constantFrom('remark', 'doubt', 'warning' as const);
const caveats = fc
  .array(fc.tuple(severity, range), { maxLength: 2 })
  .map((list) => list.map(([one, at]) => nearNoise(one, [at])));
const scale = fc.constantFrom('spl', 'relative' as const);
const row = <T>(of: fc.Arbitrary<T>) => fc.array(of, { minLength: BANDS_HZ.length, maxLength: BANDS_HZ.length });
const name = fc.oneof(
  fc.constantFrom('deep', 'tight', 'bass lift on, phase 180', '3 dB', '-', 'a ‘b’'),
  fc.string({ unit: 'grapheme', maxLength: 40 }),
);

function anyLadder(curves: Curve[]): fc.Arbitrary<Ladder> {
  const rungs = curves.length;
  const cells = <T>(of: fc.Arbitrary<T>) => fc.array(row(of), { minLength: rungs, maxLength: rungs });
  const region = fc.record({
    at: range,
    onsetDriveDb: db,
    onsetToDriveDb: db,
    ceilingDb: db,
    kind: fc.constantFrom('limiter', 'gradual' as const),
  });
  const regions = fc.array(region, { maxLength: 4 });
  return fc
    .record({
      trusted: cells(fc.boolean()),
      compressionDb: cells(maybe(db)),
      levelDb: cells(maybe(db)),
      regions: regions.map((list) => list.map(({ at: [lowHz, highHz], ...one }) => ({ lowHz, highHz, ...one }))),
      extent: fc.constantFrom('none', 'bottom', 'parts', 'everywhere', 'unknown' as const),
      ceiling: fc.record({ levelDb: row(maybe(db)), reached: row(fc.boolean()) }),
      step: fc.record({
        commandedDb: db,
        measuredDb: maybe(db),
        uncertaintyDb: maybe(db),
        differs: maybe(fc.boolean()),
      }),
      snrFrom: fc.constantFrom('noise run', 'scatter between rungs', 'unknown' as const),
      caveats,
      scale,
    })
    .map((more) => ladderOf(curves, {}, more));
}

const session = fc
  .record({
    settings: fc.uniqueArray(maybe(name), { maxLength: 4 }),
    drives: fc.uniqueArray(maybe(fc.integer({ min: -40, max: 20 })), { maxLength: 5 }),
    keep: fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }),
  })
  .chain(({ settings, drives, keep }) => {
    const bySetting = settings.map((setting) => drives.map((drive) => run(setting ?? undefined, drive ?? undefined)));
    const known = bySetting.map((curves) =>
      curves
        .filter(({ about }) => about.driveDb !== undefined)
        .sort((a, b) => (a.about.driveDb as number) - (b.about.driveDb as number)),
    );
    const fits = fc.record({
      caveats,
      at: range,
      points: fc.array(fc.record({ downDb: fc.constantFrom(3, 6, 10), lowHz: maybe(hz), highHz: maybe(hz) })),
    });
    const features = fc.array(
      fc.record({
        at: hz,
        kind: fc.constantFrom('dip', 'peak' as const),
        belongsTo: fc.constantFrom('room', 'unit', 'unknown' as const),
        caveats,
      }),
      { maxLength: 15 },
    );
    const switched = fc.record({
      a: name,
      b: name,
      kind: fc.constantFrom('shelf', 'level', 'low-pass', 'other', 'none', 'unknown' as const),
      levelDb: maybe(db),
      hingeHz: maybe(hz),
      asymptoteDb: maybe(db),
      slopeDbPerOctave: maybe(db),
      at: fc.array(fc.record({ frequencyHz: hz, differenceDb: db, trusted: fc.boolean() }), { maxLength: 4 }),
      caveats,
    });
    return fc
      .record({
        ladders: fc.tuple(...known.map(anyLadder)),
        fit: fits,
        features,
        switched,
        slope: fc.record({
          caveats,
          rmsErrorDb: fc.double({ min: 0, max: 3, noNaN: true }),
          f0Hz: hz,
          q: maybe(fc.double({ min: 0.1, max: 5, noNaN: true })),
        }),
        verdicts: fc.array(fc.constantFrom('good', 'doubtful', 'bad' as const), { maxLength: 8 }),
        scale,
        measuredAtM: maybe(fc.double({ min: 0.1, max: 20, noNaN: true })),
      })
      .map(({ ladders, fit, features, switched, slope, verdicts, scale, measuredAtM }) => {
        const curves = bySetting.flat();
        const { at, ...more } = fit;
        const all: Findings = {
          bandFit: curves.map((curve) => bandFitOf(curve, { lowHz: at[0], highHz: at[1], ...more })),
          rollOff: curves.slice(0, 2).map((curve) => rollOff(curve, slope)),
          ladder: ladders,
          roomFeatures: features.map(({ at: frequencyHz, ...one }) => feature(frequencyHz, one)),
          settingDifference: [difference(switched)],
          distortion: known.filter((one) => one.length > 0).map((one) => distortionOf(one, { scale })),
          maximumOutput: settings.map((setting) => outputOf(setting ?? undefined, { scale, measuredAtM })),
          captureQuality: verdicts.map((verdict, k) =>
            capture(`take ${k}`, verdict, { device: DEVICE, setting: settings[0] ?? undefined }),
          ),
        };
        const kept = Object.entries(all).filter((_, k) => keep[k]);
        return { curves, findings: Object.fromEntries(kept) as Findings };
      });
  });

describe('conclusions from any findings', () => {
  it('are sound in words: numbers in values, short, nothing unknown written out', () => {
    fc.assert(
      fc.property(session, ({ curves, findings }) => {
        const found = conclude(curves, findings);
        expect(found.headlines.length).toBeGreaterThanOrEqual(1);
        expect(found.headlines.length).toBeLessThanOrEqual(7);
        for (const one of [...found.headlines, ...found.details]) expectSound(one);
        for (const { text } of found.headlines) expect(wordsIn(text), text).toBeLessThanOrEqual(20);
        const parsed = findingsSchema.safeParse({ conclusions: found });
        expect(parsed.error?.issues ?? []).toEqual([]);
      }),
      { numRuns: 150, seed: 7 },
    );
  });

  it('never deny limits without a trusted level that shows it', () => {
    fc.assert(
      fc.property(session, ({ curves, findings }) => {
        const { headlines, settings } = conclude(curves, findings);
        const shown = (findings.ladder ?? []).filter(
          ({ extent, trusted }) => extent === 'none' && trusted.some((cells) => cells.includes(true)),
        );
        expect(settings.filter(({ extent }) => extent === 'none').length).toBeLessThanOrEqual(shown.length);
        if (shown.length === 0) expect(headlines.map(({ code }) => code)).not.toContain('limits-none');
      }),
      { numRuns: 100, seed: 8 },
    );
  });
});
