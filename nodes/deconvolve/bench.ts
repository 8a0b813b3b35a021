import type { SweepSpec } from '../../lib';
import type { Caveat } from '../../lib/model/caveat';
import type { Recording } from '../../lib/model/curve';
import type { Own } from '../define';
import type { fields } from './fields';

export type Stimulus = Recording | SweepSpec;

/** What was played, and what is to be said about it. */
export interface Found {
  stimulus: Stimulus;
  notes: Caveat[];
}

/** What the node keeps from message to message. */
export interface Bench {
  /** The latest that a message brought. */
  stimulus?: Stimulus;
  file?: { state: string; found: Found };
  /** Stimuli that came as bytes. */
  read: WeakMap<Uint8Array, Recording>;
  /** Count a capture in; tell it how far it is, and that it is done. */
  begin(): { onProgress(share: number): void; end(): void };
}

/** The status changes no more often than this, ms. */
const STATUS_MS = 250;

export function openBench({ node, RED }: Own<typeof fields>): Bench {
  // A deployment may take a moment, a message among others may not: what is needed is loaded now.
  setImmediate(() => {
    require('../../lib');
    (require('../../lib/work/workers') as typeof import('../../lib/work/workers')).workers('work');
  });
  let captures: { share: number; isDone: boolean }[] = [];
  let shown = Number.NEGATIVE_INFINITY;
  const show = () => {
    if (performance.now() - shown < STATUS_MS) return;
    shown = performance.now();
    const of = captures.length;
    const done = captures.filter(({ isDone }) => isDone).length;
    const percent = Math.floor((100 * captures.reduce((sum, { share }) => sum + share, 0)) / of);
    node.status({ fill: 'blue', shape: 'ring', text: RED._('status.progress', { done, of, percent }) });
  };
  return {
    read: new WeakMap(),
    begin() {
      const own = { share: 0, isDone: false };
      captures.push(own);
      show();
      return {
        onProgress(share) {
          own.share = share;
          show();
        },
        end() {
          Object.assign(own, { share: 1, isDone: true });
          if (captures.every(({ isDone }) => isDone)) captures = [];
          else show();
        },
      };
    },
  };
}
