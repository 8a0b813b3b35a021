import { createHash } from 'node:crypto';
import { checkColumns } from './checkColumns';
import type { Curve } from './curve';
import type { Step } from './step';

export type CurveParts = Pick<Curve, 'frequencyHz' | 'levelDb'> &
  Partial<Omit<Curve, 'kind' | 'id' | 'frequencyHz' | 'levelDb'>>;

/**
 * Make a curve from its columns, check it and give it its id.
 *
 * @param parts frequencies (Hz, > 0, strictly rising) and levels (dB), and whatever else is known.
 * @returns a curve whose `id` is a hash of its columns.
 * @throws BassloomError as `checkColumns` does.
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
  checkColumns(label, columns, label);
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

function hashOf(columns: (number[] | undefined)[]): string {
  const hash = createHash('sha256');
  for (const column of columns) {
    hash.update(column ? new Float64Array(column) : '-');
  }
  return hash.digest('hex').slice(0, 16);
}
