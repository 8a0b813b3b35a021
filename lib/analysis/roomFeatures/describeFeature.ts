import type { Caveat } from '../../model/caveat';
import type { RoomFeature } from '../../model/findings';
import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import { describeCause } from '../../words/describeCause';
import { makeCaveat } from '../../words/makeCaveat';
import { type GroupSight, type Owners, ownersOf } from './belongsTo';
import type { Explanation } from './causeOf';
import type { FeatureCluster } from './clusterFeatures';
import { type CheckedOptions, toleranceAt } from './featureOptions';
import type { RunGroup } from './roomTrace';
import { rimDepthDb, type Sight, sightOf } from './seenIn';

type Options = Pick<CheckedOptions, 'minProminenceDb' | 'listedHz' | 'toleranceHz'>;

/** How sure a frequency on the user's own list is. */
const LISTED = 0.9;

/** Turn a cluster into a finding: where it is seen, what it comes from, whose it is, how sure that is. */
export function describeFeature(
  cluster: FeatureCluster,
  groups: RunGroup[],
  explained: Explanation | null,
  options: Options,
): RoomFeature {
  const { kind, frequencyHz, members } = cluster;
  const { group, feature } = members[0];
  const { prominenceDb, depthDb, widthOctaves, maskHz, significance, snrDb } = feature;
  const tolerance = toleranceAt(frequencyHz, options.toleranceHz);
  const sought = { kind, frequencyHz, maskHz };
  const rimDb = rimDepthDb(groups[group].mean, sought, tolerance);
  const enough = Math.min(0.5 * rimDb, options.minProminenceDb);
  const views = groups.map(
    (one): GroupSight => ({
      group: one,
      sights: one.traces.map((trace) => sightOf(trace, sought, tolerance, enough)),
    }),
  );
  const sights = views.flatMap((view) => view.sights);
  const count = (sight: Sight) => sights.filter((one) => one === sight).length;
  const owners = ownersOf(views, sought, tolerance, rimDb);
  const { cause, explains, belongsTo } = causeFrom(frequencyHz, explained, owners, options);
  const share = count('seen') / Math.max(1, count('seen') + count('not seen'));
  const sureness = 1 - Math.exp(-significance / 4);
  return {
    frequencyHz,
    kind,
    prominenceDb,
    depthDb,
    widthOctaves,
    maskHz,
    cause,
    belongsTo,
    confidence: share * sureness * explains,
    seenIn: count('seen'),
    of: sights.length - count('not measured'),
    caveats: caveatsOf(kind, snrDb, count('drowned in noise'), sights.length),
  };
}

type Judged = Pick<RoomFeature, 'belongsTo'> & Explanation;

function causeFrom(hz: number, explained: Explanation | null, { units, shows }: Owners, options: Options): Judged {
  const apart = (listed: number) => Math.abs(listed - hz);
  const listed = options.listedHz
    .filter((at) => apart(at) <= toleranceAt(at, options.toleranceHz))
    .sort((a, b) => apart(a) - apart(b))[0];
  // another unit in the same place lacks it: whatever the room may predict there, it is not what is seen
  const found = shows === 'unit' ? null : explained;
  const agreement = shows === 'room' ? 1 - 0.5 ** units : 0;
  const explains = Math.max(found?.explains ?? 0, agreement);
  if (listed !== undefined) {
    const as = found && { values: { ...found.cause.values, as: found.cause.type }, detail: found.cause.detail };
    const cause = { type: 'listed' as const, ...as, predictedHz: listed, mismatchHz: hz - listed };
    return { cause, explains: Math.max(LISTED, explains), belongsTo: 'room' };
  }
  if (found) return { cause: found.cause, explains, belongsTo: 'room' };
  if (shows === 'room') {
    const cause = { type: 'signature' as const, values: { units } };
    return { cause: { ...cause, detail: describeCause(cause) }, explains, belongsTo: 'room' };
  }
  return { cause: { type: 'unexplained' }, explains: 0, belongsTo: shows };
}

function caveatsOf(kind: 'dip' | 'peak', snrDb: number, hidden: number, of: number): Caveat[] {
  const caveats: Caveat[] = [];
  if (kind === 'dip' && snrDb < TRUSTED_SNR_DB) {
    caveats.push(makeCaveat('dip-in-noise', 'doubt', { snrDb: TRUSTED_SNR_DB }));
  }
  if (hidden > 0) caveats.push(makeCaveat('feature-hidden', 'remark', { hidden, of }));
  return caveats;
}
