import type { RedApi, RedNode } from '../nodeRed';

/** The status changes no more often than this, ms. */
const STATUS_MS = 250;

/** Say in the status how many of some recordings are done; to be called once for each. */
export function watchProgress(node: RedNode, RED: RedApi, of: number): () => void {
  let done = 0;
  let shown = Number.NEGATIVE_INFINITY;
  const show = () => {
    if (performance.now() - shown < STATUS_MS) return;
    shown = performance.now();
    node.status({ fill: 'blue', shape: 'ring', text: RED._('status.progress', { done, of }) });
  };
  show();
  return () => {
    done++;
    show();
  };
}
