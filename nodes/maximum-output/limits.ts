import type { HarmonicLimit } from '../../lib';
import type { Field } from '../fields';

/** One line of limits: '2: -10', '4-5: -20' or, without end, '9-: -40'. */
const LINE = /^(\d+)(?:\s*(-)\s*(\d*))?\s*:\s*([+-]?\d+(?:[.,]\d+)?)$/;

/** Limits of harmonics: an array as the finding holds it, or text such as '2: -10; 3: -15; 4-5: -20; 9-: -40'. */
export function limits(): Field<HarmonicLimit[] | undefined> {
  return {
    schema: (z) => {
      const what = "lines such as '2: -10; 4-5: -20; 9-: -40' are needed";
      const order = z.number(what).int(what).min(2, 'the first harmonic is the 2nd');
      const limitDb = z.number(what).max(40, 'a limit is at most 40 dB');
      const limit = z.object({ fromOrder: order, toOrder: order.nullable(), limitDb }, what);
      const rises = ({ fromOrder, toOrder }: HarmonicLimit) => toOrder === null || toOrder >= fromOrder;
      return z.preprocess(
        (value) => (typeof value === 'string' ? readLines(value) : value),
        z.array(limit.refine(rises, 'the first order is above the last'), what).min(1, what),
      );
    },
  };
}

/** What cannot be read is left as it is, for the schema to refuse. */
function readLines(text: string): unknown {
  return text
    .split(';')
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .map((line) => {
      const [found, from, dash, to, db] = LINE.exec(line) ?? [];
      if (!found) return line;
      const toOrder = to ? Number(to) : dash ? null : Number(from);
      return { fromOrder: Number(from), toOrder, limitDb: Number(db.replace(',', '.')) };
    });
}
