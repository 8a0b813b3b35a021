import type { Caveat } from '../../model/caveat';
import type { Curve, Interval } from '../../model/curve';
import { BassloomError } from '../../model/errors';
import type { RoomFeature } from '../../model/findings';
import { captureCaveats } from '../../response/captureCaveats';
import { makeCaveat } from '../../words/makeCaveat';
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
 * Causes: a dip of the predicted transfer within 0.07 octave ('interference', with the two strongest modes that work
 * against each other; 'boundary' where modes are crowded and a strong reflection cancels within 0.05 octave), the mode
 * that is strongest at a peak ('mode'), a frequency on the list ('listed', before all others), agreement of several
 * units where none of this is known or fits ('signature').
 *
 * `confidence` = share x sureness x (1 - (1 - agreement)(1 - fit)): share of the runs that could show it and do;
 * sureness 1 - exp(-prominence / (4 standard deviations of noise)); agreement 1 - 0.5^u 0.8^v for u units and v further
 * settings or positions; fit 0.9 exp(-(mismatch / 0.03 octave)^2 / 2) of the cause, half and less where modes are known
 * but not the positions, 0 without a cause.
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
  if (responses.length === 0) {
    throw new BassloomError('no-curves', 'Room features need at least one response; none was given.', {
      field: 'curves',
    });
  }
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
