import type { Curve } from '../../lib/model/curve';
import type { AdminRequest, AdminResponse } from '../nodeRed';
import { lastOf, type Named, type View } from '../seen';

/** Points of a curve that a screen can show. */
const POINTS = 600;
/** Curves of a message that are told; more would not be told apart. */
const CURVES = 60;

/**
 * Tell the editor what some nodes were given last and made of it: `?ids=a,b` for those, `&full=true` for every point.
 * Curves are thinned for a screen; of recordings only the name is told.
 */
export function tellSeen({ query }: AdminRequest, response: AdminResponse): void {
  const ids = (query.ids ?? '').split(',').filter(Boolean);
  const { thinForScreen } = require('../../lib') as typeof import('../../lib');
  const points = query.full === 'true' ? Number.POSITIVE_INFINITY : POINTS;
  const told = (view: View | undefined) => view && { ...view, ...parted(view.measurements) };
  const parted = (all: Named[]) => {
    const curves = all.filter((one): one is Curve => one.kind === 'curve');
    return {
      measurements: undefined,
      curves: curves
        .slice(0, CURVES)
        .map(({ steps, phaseDeg, noiseDb, ...curve }) => ({ ...curve, ...thinForScreen(curve, points) })),
      curveCount: curves.length,
      recordings: all.filter(({ kind }) => kind === 'recording').map(({ label, role }) => ({ label, role })),
    };
  };
  response.json(
    ids.map((id) => {
      const last = lastOf(id);
      return { id, stamp: last?.stamp, at: last?.at, before: told(last?.before), after: told(last?.after) };
    }),
  );
}
