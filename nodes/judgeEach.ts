import type { Caveat, Refused } from '../lib/model/caveat';
import { BassloomError } from '../lib/model/errors';
import { makeCaveat } from '../lib/words/makeCaveat';
import type { Message, RedNode } from './nodeRed';

interface Judging {
  node: RedNode;
  message: Message;
}

/**
 * Judge each of several things on its own: what is refused is left out, named in a note and told to Catch, and costs the
 * others nothing.
 *
 * @param analysis its name without 'bassloom-'. @param labelOf the file or run that a thing is known by.
 * @throws where all are refused: what the first was refused with.
 */
export function judgeEach<T, R>(
  { node, message }: Judging,
  analysis: string,
  things: T[],
  labelOf: (thing: T) => string,
  judge: (thing: T) => R,
): { found: R[]; notes: Caveat[] } {
  const found: R[] = [];
  const refused: { label: string; problem: Error & { code?: string } }[] = [];
  for (const thing of things) {
    try {
      found.push(judge(thing));
    } catch (problem) {
      if (!(problem instanceof Error)) throw problem;
      refused.push({ label: labelOf(thing), problem });
    }
  }
  if (found.length === 0 && refused.length > 0) throw refused[0].problem;
  tell(node, message, analysis, refused);
  const notes = refused.map(({ label, problem }) =>
    makeCaveat('run-left-out', 'remark', { analysis }, { file: label }, problem as Refused),
  );
  return { found, notes };
}

/** One line for all that were left out for the same reason. */
export function tell(
  node: RedNode,
  message: Message,
  analysis: string,
  refused: { label: string; problem: Error & { code?: string } }[],
): void {
  for (const code of new Set(refused.map(({ problem }) => problem.code))) {
    const alike = refused.filter(({ problem }) => problem.code === code);
    const names = alike.slice(0, 3).map(({ label }) => label);
    const more = alike.length > names.length ? ` and ${alike.length - names.length} more` : '';
    const unit = typeof message.topic === 'string' && message.topic !== '' ? `${message.topic}: ` : '';
    const what = `${unit}${analysis} leaves out ${names.join(', ')}${more}. ${alike[0].problem.message}`;
    node.error(new BassloomError(code ?? 'left-out', what, { cause: alike[0].problem }), message);
  }
}
