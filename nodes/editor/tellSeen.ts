import type { Curve } from '../../lib/model/curve';
import type { AdminRequest, AdminResponse } from '../nodeRed';
import { lastOf, type Named, type View } from '../seen';

/** Findings that have a picture of their own. */
const DRAWN = [
  ...(['bandFit', 'rollOff', 'ladder', 'settingDifference', 'roomFeatures', 'distortion'] as const),
  ...(['maximumOutput', 'captureQuality'] as const),
];
/** Points of a curve that a screen can show. */
const POINTS = 600;
/** Curves of a message that are told; more would not be told apart. */
const CURVES = 60;

/**
 * Tell the editor what some nodes were given last and made of it: `?ids=a,b` for those, `&full=true` for every point,
 * `&stamp=12` for nothing where the newest of them is that one.
 * Curves are thinned for a screen; of recordings only the name is told.
 */
export function tellSeen({ query }: AdminRequest, response: AdminResponse): void {
  const ids = (query.ids ?? '').split(',').filter(Boolean);
  const { thinForScreen } = require('../../lib') as typeof import('../../lib');
  const points = query.full === 'true' ? Number.POSITIVE_INFINITY : POINTS;
  const told = (view: View | undefined) =>
    view && {
      topic: view.topic,
      ...parted(view.measurements),
      kinds: DRAWN.filter((kind) => (view.findings[kind]?.length ?? 0) > 0),
      hasReport: view.report !== undefined,
    };
  const parted = (all: Named[]) => {
    const curves = all.filter((one): one is Curve => one.kind === 'curve');
    return {
      curves: curves
        .slice(0, CURVES)
        .map(({ steps, phaseDeg, noiseDb, ...curve }) => ({ ...curve, ...thinForScreen(curve, points) })),
      curveCount: curves.length,
      recordings: all.filter(({ kind }) => kind === 'recording').map(({ label, role }) => ({ label, role })),
    };
  };
  const newest = Math.max(-1, ...ids.map((id) => lastOf(id)?.stamp ?? -1));
  if (query.stamp === String(newest)) {
    response.json([]);
    return;
  }
  response.json(
    ids.map((id) => {
      const last = lastOf(id);
      return { id, stamp: last?.stamp, at: last?.at, before: told(last?.before), after: told(last?.after) };
    }),
  );
}
