import type { Caveat } from '../lib/model/caveat';
import type { Curve } from '../lib/model/curve';
import { BassloomError } from '../lib/model/errors';
import { makeCaveat } from '../lib/words/makeCaveat';
import type { Library } from './define';
import { tell } from './judgeEach';
import type { Message, RedNode } from './nodeRed';
import { oddRuns } from './oddRuns';

interface Setting {
  lib: Library;
  node: RedNode;
  message: Message;
}

/** The responses that can be judged together, setting by setting; odd ones are named in a note and told to Catch. */
export function setAside(
  { lib, node, message }: Setting,
  analysis: string,
  responses: Curve[],
): { kept: Curve[]; notes: Caveat[] } {
  const aside = oddRuns(lib, responses);
  const odd = new Set(aside.map(({ run }) => run));
  const notes = aside.map(({ run, why }) =>
    makeCaveat('run-set-aside', 'remark', { analysis, why }, { file: run.label, curve: run.id }),
  );
  const refused = aside.map(({ run, why }, i) => ({
    label: run.label,
    problem: new BassloomError(`odd-${why}`, notes[i].message),
  }));
  tell(node, message, analysis, refused);
  return { kept: responses.filter((run) => !odd.has(run)), notes };
}
