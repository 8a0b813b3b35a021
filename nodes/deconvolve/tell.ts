import type { Deconvolution } from '../../lib/model/findings';
import type { Outcome } from '../define';
import type { RedApi } from '../nodeRed';

/** The status after some captures: the worst of what there is to say. */
export function tell(
  RED: RedApi,
  found: Deconvolution[],
  refused: number,
): Pick<Outcome, 'status' | 'bad' | 'doubtful'> {
  const of = found.length + refused;
  const count = (verdict: string) => found.filter(({ quality }) => quality.verdict === verdict).length;
  if (refused > 0) return { status: RED._('status.refused', { count: refused, of }), bad: true };
  if (count('bad') > 0) return { status: RED._('status.bad', { count: count('bad'), of }), bad: true };
  if (count('doubtful') > 0)
    return { status: RED._('status.doubtful', { count: count('doubtful'), of }), doubtful: true };
  return { status: RED._('status.good', { count: of }) };
}
