import type { Curve, Interval, Measurement } from '../../lib/model/curve';
import { BassloomError } from '../../lib/model/errors';
import type { Findings } from '../../lib/model/findings';
import type { AdminRequest, AdminResponse } from '../nodeRed';
import { lastOf, pinnedOf, type View } from '../seen';

/** Draw what some nodes did: `?ids=a,b`, and how, as the sidebar asks. */
export function tellPicture({ query }: AdminRequest, response: AdminResponse): void {
  draw(query).then(
    (picture) => response.json(picture),
    (problem: Error) => {
      const { code } = problem as BassloomError;
      response.status(code === undefined ? 500 : 400).json({ code, message: problem.message });
    },
  );
}

async function draw(query: AdminRequest['query']): Promise<object> {
  const lib = require('../../lib') as typeof import('../../lib');
  const seen = (query.ids ?? '').split(',').flatMap((id) => lastOf(id) ?? []);
  const [first] = seen;
  const number = (text: string | undefined) => (text === undefined ? undefined : Number(text));
  const options = {
    widthPx: number(query.width),
    heightPx: number(query.height),
    theme: query.theme as 'light' | 'dark' | undefined,
  };
  if (query.kind && query.kind !== 'curves') {
    if (!first) throw new BassloomError('nothing-to-draw', 'Nothing has gone through this node.');
    const { measurements, findings } = (first.after ?? first.before) as View;
    const input = { measurements: measurements as Measurement[], findings, kind: query.kind as keyof Findings };
    const svg = new TextDecoder().decode(await lib.renderChart(input, { ...options, crew: 'pictures' }));
    return { svg, plot: null, text: '' };
  }
  const before = seen.length === 1 && query.before !== 'false' && first.after ? curvesOf(first.before) : [];
  const after = seen.flatMap((one) => curvesOf(one.after ?? one.before));
  const rangeHz = query.from && query.to ? ([Number(query.from), Number(query.to)] as Interval) : undefined;
  const pinned = query.pin ? curvesOf(pinnedOf(query.pin)) : [];
  const findings = seen.length === 1 ? (first.after ?? first.before)?.findings : undefined;
  return await lib.renderSeen({ before, after, pinned, findings, rangeHz }, options);
}

function curvesOf(view: View | undefined): Curve[] {
  return (view?.measurements ?? []).filter((one): one is Curve => one.kind === 'curve');
}
