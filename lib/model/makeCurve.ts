import { createHash } from 'node:crypto';
import type { Curve } from './curve';
import { curveRefusals } from './curveRefusals';
import { BassloomError } from './errors';
import type { Step } from './step';

export type CurveParts = Pick<Curve, 'frequencyHz' | 'levelDb'> &
  Partial<Omit<Curve, 'kind' | 'id' | 'frequencyHz' | 'levelDb'>>;

/**
 * Make a curve from its columns, check it and give it its id.
 *
 * @param parts frequencies (Hz, > 0, strictly rising) and levels (dB), and whatever else is known.
 * @returns a curve whose `id` is a hash of its columns.
 * @throws BassloomError `empty-curve`, `unequal-columns`, `frequency-not-rising`, `not-a-number`.
 *
 * @example
 * const curve = makeCurve({ frequencyHz: [20, 40], levelDb: [80, 86], label: 'unit, step 1' });
 */
export function makeCurve(parts: CurveParts): Curve {
  const label = parts.label ?? 'curve';
  const columns = {
    frequencyHz: parts.frequencyHz,
    levelDb: parts.levelDb,
    phaseDeg: parts.phaseDeg,
    noiseDb: parts.noiseDb,
  };
  checkColumns(label, columns);
  return {
    kind: 'curve',
    role: parts.role ?? 'response',
    ...(parts.order !== undefined && { order: parts.order }),
    // noise attached later does not make it another measurement
    id: hashOf([columns.frequencyHz, columns.levelDb, columns.phaseDeg]),
    label,
    frequencyHz: parts.frequencyHz,
    levelDb: parts.levelDb,
    ...(parts.phaseDeg && { phaseDeg: parts.phaseDeg }),
    ...(parts.noiseDb && { noiseDb: parts.noiseDb }),
    scale: parts.scale ?? 'relative',
    about: parts.about ?? {},
    steps: parts.steps ?? [],
  };
}

/**
 * A new curve from an old one: other columns, the same story, one step longer. The old one is left alone.
 *
 * @example
 * const louder = deriveCurve(curve, { levelDb: curve.levelDb.map((l) => l + 6) }, { did: 'own: offset', with: { db: 6 } });
 */
export function deriveCurve(from: Curve, changed: Partial<CurveParts>, step: Step): Curve {
  return makeCurve({ ...from, ...changed, steps: [...from.steps, step] });
}

function checkColumns(label: string, columns: Record<string, number[] | undefined>): void {
  const { frequencyHz, levelDb } = columns as { frequencyHz: number[]; levelDb: number[] };
  if (!frequencyHz?.length || !levelDb) refuse('empty-curve', { label });
  for (const [field, column] of Object.entries(columns)) {
    if (!column) continue;
    const [length, wanted] = [column.length, frequencyHz.length];
    if (length !== wanted) refuse('unequal-columns', { label, length, wanted }, field);
    const index = column.findIndex((value) => !Number.isFinite(value));
    if (index >= 0) refuse('not-a-number', { label, index }, field);
  }
  const index = frequencyHz.findIndex((hz, i) => !(hz > (i === 0 ? 0 : frequencyHz[i - 1])));
  if (index >= 0) refuse('frequency-not-rising', { label, index, hz: frequencyHz[index] }, 'frequencyHz');
}

function refuse<C extends keyof typeof curveRefusals>(
  code: C,
  values: Parameters<(typeof curveRefusals)[C]>[0],
  field?: string,
): never {
  const phrase = curveRefusals[code] as (...parts: unknown[]) => string;
  throw new BassloomError(code, phrase(values, { field }, { exact: String }), { field, values });
}

function hashOf(columns: (number[] | undefined)[]): string {
  const hash = createHash('sha256');
  for (const column of columns) {
    hash.update(column ? new Float64Array(column) : '-');
  }
  return hash.digest('hex').slice(0, 16);
}
