import type { Caveat } from '../../model/caveat';
import type { Curve, Interval } from '../../model/curve';
import type { RoomFeature } from '../../model/findings';
import { captureCaveats } from '../../response/captureCaveats';
import { makeCaveat } from '../../words/makeCaveat';
import { makeRefusal } from '../../words/makeRefusal';
import { averageTraces } from './averageTraces';
import { causesOf, type Explanation } from './causeOf';
import { clusterFeatures } from './clusterFeatures';
import { describeFeature } from './describeFeature';
import { checkOptions, type RoomFeatureOptions } from './featureOptions';
import { type Likeness, likenessOf } from './likeness';
import { noiseOfRuns } from './noiseOfRuns';
import { roomPredictor } from './roomPredictor';
import { type RoomTrace, roomTrace } from './roomTrace';
import { traceFeatures } from './traceFeatures';

export type { RoomFeatureOptions };

/**
 * Find the dips and peaks that the room puts into responses, and say what each comes from.
 *
 * @param curves responses taken in one room: rungs, settings, units; other roles are passed over.
 * @param options see {@link RoomFeatureOptions}.
 * @returns features by frequency.
 * @throws BassloomError `no-curves`, `bad-option`, `bad-interval`, and as for any room.
 *
 * Notes: runs of one unit in one setting and position are averaged first, each weighted by how far it stands above its
 * noise. Dips and peaks of at least the wanted topographic prominence after 1/24-octave smoothing are looked for in
 * each average, and those that noise could have made (three standard deviations on either side) are dropped. Features
 * of different averages that lie within the tolerance are one: its frequency is their mean, weighted by prominence over
 * noise, its sizes are those of the surest. `depthDb` is against the 1-octave mean, `widthOctaves` at half of that,
 * `maskHz` the stretch in which the curve lies more than 1.5 dB (a quarter of a shallow dip) below the level around,
 * which is its 1-octave mean or the lower shoulder: what lies outside can stay in a band fit.
 *
 * Causes: with a room whose places are known, the whole curve (mean over units, settings and positions, against its
 * octave) must first resemble the predicted transfer, else nothing is explained and a remark says so. Then a seen
 * feature is explained by a predicted one of its kind that lies so near, and is so like in size, that the room is twice
 * as likely as chance, given how densely the predicted ones lie: 'interference' of a dip, with the two strongest modes
 * that work against each other; 'boundary' where modes are crowded and a strong reflection cancels within 0.05 octave;
 * 'mode' of a peak, with the strongest. Without the places only a peak is explained, by a mode so near that chance gives
 * it in one of twenty. A frequency on the list is 'listed', before all others. What different units share is a
 * 'signature' where none of this fits.
 *
 * `belongsTo`: 'room' where one of these causes was found; 'unit' where another unit (or another setting of it) in the
 * same place clearly lacks the feature; else 'unknown'. Settings and rungs of one unit show nothing of the room.
 *
 * `confidence` = share x sureness x fit: share of the runs that could show it and do; sureness 1 - exp(-prominence / (4
 * standard deviations of noise)); fit: how likely the cause is against chance, 1 - 0.5^u with u different units, 0.9 of
 * what is listed, whichever is more; 0 without a cause.
 *
 * Limits: a dip on the unit's roll-off that has no shoulders left is not seen. Noise is only known where curves
 * bring it, where several runs share a grid, or where the grid is finer than about 1 Hz. Where the grid is
 * coarser than 1/24 octave the smoothing does nothing, and narrow dips are missed.
 *
 * @example
 * const room = { lengthM: 6, widthM: 4.5, heightM: 2.5, source: [0.5, 1, 0.3], microphone: [4, 2.5, 1.1] };
 * findRoomFeatures(curves, { room }).filter((feature) => feature.kind === 'dip').map((feature) => feature.maskHz);
 */
export function findRoomFeatures(curves: Curve[], options: RoomFeatureOptions = {}): RoomFeature[] {
  const { minProminenceDb, rangeHz, room, listedHz, toleranceHz } = checkOptions(options);
  const responses = curves.filter((curve) => curve.role === 'response');
  if (responses.length === 0) throw makeRefusal('no-curves', { to: 'find features' }, { field: 'curves' });
  const groups = groupRuns(responses)
    .map((runs) => tracesOf(runs, [rangeHz[0] / 2, rangeHz[1] * 2]))
    .filter((traces) => traces.length > 0)
    .map((traces) => ({ traces, mean: averageTraces(traces) }));
  const found = groups.map(({ mean }) => traceFeatures(mean, { minProminenceDb, rangeHz }));
  const clusters = clusterFeatures(found, toleranceHz);
  const sought = clusters.map(({ members, kind, frequencyHz }) => ({ ...members[0].feature, kind, frequencyHz }));
  const predictor = room && roomPredictor(room, rangeHz);
  const likeness =
    predictor?.placed &&
    likenessOf(
      groups.map(({ mean }) => mean),
      predictor.placed.trace,
      rangeHz,
    );
  const isUsed = predictor && (!predictor.placed || likeness?.isShown);
  const causes = isUsed ? causesOf(sought, predictor) : sought.map((): Explanation | null => null);
  const shared = [...captureCaveats(responses), ...(likeness ? unlikeRoom(likeness) : [])];
  return clusters.map((cluster, i) => {
    const feature = describeFeature(cluster, groups, causes[i], { minProminenceDb, listedHz, toleranceHz });
    return { ...feature, caveats: [...shared, ...feature.caveats] };
  });
}

function unlikeRoom({ isShown, correlation }: Likeness): Caveat[] {
  return isShown ? [] : [makeCaveat('room-unlike', 'remark', { correlation })];
}

function groupRuns(curves: Curve[]): Curve[][] {
  const groups = new Map<string, Curve[]>();
  for (const curve of curves) {
    const { device, setting, position } = curve.about;
    const key = JSON.stringify([device, setting, position]);
    groups.set(key, [...(groups.get(key) ?? []), curve]);
  }
  return [...groups.values()];
}

function tracesOf(runs: Curve[], rangeHz: Interval): RoomTrace[] {
  const noise = noiseOfRuns(runs, rangeHz);
  return runs.map((run, i) => roomTrace(run, rangeHz, noise[i])).filter((trace) => trace !== null);
}
