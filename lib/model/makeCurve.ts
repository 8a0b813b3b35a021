import { hash } from 'node:crypto';
import { type Columns, checkColumns } from './checkColumns';
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
    id: hashOf(columns),
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

/** Of the columns as doubles one after the other, and a dash for a phase that is not known. */
function hashOf({ frequencyHz, levelDb, phaseDeg }: Columns): string {
  const count = frequencyHz.length + levelDb.length + (phaseDeg?.length ?? 0);
  const bytes = new Uint8Array(8 * count + (phaseDeg ? 0 : 1));
  const numbers = new Float64Array(bytes.buffer, 0, count);
  let end = copyInto(numbers, frequencyHz, 0);
  end = copyInto(numbers, levelDb, end);
  if (phaseDeg) copyInto(numbers, phaseDeg, end);
  else bytes[8 * count] = 0x2d;
  return hash('sha256', bytes, 'hex').slice(0, 16);
}

/** As `set` of typed arrays, which takes ten times as long on the arrays with holes that Node-RED's cloning makes. */
function copyInto(numbers: Float64Array, column: number[], from: number): number {
  for (let i = 0; i < column.length; i++) numbers[from + i] = column[i];
  return from + column.length;
}
