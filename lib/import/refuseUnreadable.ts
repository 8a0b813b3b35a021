import { makeRefusal } from '../words/makeRefusal';
import { findHeading } from './findHeading';
import { lineNumberAt, type SampleLine } from './lines';

/**
 * Say why no rows of numbers could be found in a text.
 *
 * @param sample lines that look most like data.
 * @throws BassloomError `one-column`, `header-only`, `nothing-numeric`.
 */
export function refuseUnreadable(
  text: string,
  sample: SampleLine[],
  options: { called: string; delimiter?: string },
): never {
  const { called, delimiter } = options;
  const split = { label: called, delimiter: delimiter ?? null };
  const single = sample.filter((line) => /^\s{0,99}["']?[^\s"']{1,40}["']?\s{0,99}[,;]?$/.test(line.text));
  if (sample.length > 0 && (single.length > 0.5 * sample.length || delimiter !== undefined)) {
    const line = lineNumberAt(text, (single[0] ?? sample[0]).offset);
    throw makeRefusal('one-column', split, { line });
  }
  const lines = text.split('\n', 100).map((line, i) => ({ text: line, line: i + 1 }));
  for (const columns of [2, 3, 4]) {
    for (const other of [',', ';', '\t']) {
      const found = findHeading(lines.slice(0, 40), { delimiter: other, columnCount: columns });
      const heading = found.heading ?? found.passedOver.at(-1);
      if (heading && !lines.slice(heading.line - 1).some((line) => /^[\s"']{0,99}[+\-.,]?\d/.test(line.text))) {
        throw makeRefusal('header-only', { label: called }, { line: heading.line });
      }
    }
  }
  throw makeRefusal('nothing-numeric', { ...split, why: 'rows' });
}
