import { importText } from '../../../lib/import/importText';
import { BassloomError } from '../../../lib/model/errors';
import type { DrawnText } from './drawText';

/** How the reading of a text went: as meant, refused, wrong but doubted, or wrong and not a word about it. */
export type Outcome =
  | 'right'
  | 'right, doubted'
  | 'refused'
  | 'wrong, doubted'
  | 'wrong, undecidable'
  | 'wrong'
  | 'crash';

export interface Judged {
  outcome: Outcome;
  why: string;
  doubts: string[];
}

/** Read a text of known truth and hold what comes out against it. */
export function judge(drawn: DrawnText): Judged {
  let read: ReturnType<typeof importText>;
  try {
    read = importText(drawn.source, drawn.options);
  } catch (error) {
    if (error instanceof BassloomError) return { outcome: 'refused', why: error.code, doubts: [] };
    return { outcome: 'crash', why: String(error), doubts: [] };
  }
  const doubts = read.notes.filter(({ severity }) => severity !== 'remark').map(({ code }) => code);
  const why = whatIsWrong(drawn, read.curve);
  if (why === undefined) return { outcome: doubts.length > 0 ? 'right, doubted' : 'right', why: '', doubts };
  if (doubts.length > 0) return { outcome: 'wrong, doubted', why, doubts };
  return { outcome: drawn.isUndecidable ? 'wrong, undecidable' : 'wrong', why, doubts };
}

function whatIsWrong(
  { points, isNormal }: DrawnText,
  curve: ReturnType<typeof importText>['curve'],
): string | undefined {
  if (points.length === 0) return 'it holds no response';
  const sorted = points.toSorted((a, b) => a.hz - b.hz);
  let at = 0;
  for (const [i, hz] of curve.frequencyHz.entries()) {
    const isSame = (other: number) => Math.abs(other - hz) <= 1e-9 * hz;
    while (at < sorted.length && sorted[at].hz < hz && !isSame(sorted[at].hz)) at++;
    const same = [];
    for (let k = at; k < sorted.length && isSame(sorted[k].hz); k++) same.push(sorted[k]);
    if (same.length === 0) return `no point at ${hz} Hz`;
    const wrong = wrongOf(
      curve.levelDb[i],
      same.map(({ db }) => db),
    );
    if (wrong) return `level at ${hz} Hz ${wrong}`;
    const noise =
      curve.noiseDb &&
      wrongOf(
        curve.noiseDb[i],
        same.map((point) => point.noiseDb ?? Number.NaN),
      );
    if (noise) return `noise at ${hz} Hz ${noise}`;
    const phase =
      curve.phaseDeg &&
      same.length === 1 &&
      wrongOf(
        curve.phaseDeg[i],
        same.map((point) => point.deg ?? Number.NaN),
      );
    if (phase) return `phase at ${hz} Hz ${phase}`;
  }
  if (isNormal && curve.frequencyHz.length < 0.8 * points.length)
    return `${curve.frequencyHz.length} of ${points.length} points`;
  return undefined;
}

function wrongOf(value: number, meant: number[]): string | undefined {
  const low = Math.min(...meant);
  const high = Math.max(...meant);
  return value >= low - 1e-6 && value <= high + 1e-6 ? undefined : `is ${value}, meant was ${low}`;
}
