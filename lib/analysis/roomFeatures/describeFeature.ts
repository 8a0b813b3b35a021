import type { RoomFeature } from '../../model/findings';
import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import { asCaveats } from '../../words/makeCaveat';
import type { Explanation } from './causeOf';
import type { FeatureCluster } from './clusterFeatures';
import { type CheckedOptions, toleranceAt } from './featureOptions';
import type { RoomTrace } from './roomTrace';
import { rimDepthDb, type Sight, sightOf } from './seenIn';

/** The runs of one unit in one setting and position, and their average. */
export interface RunGroup {
  traces: RoomTrace[];
  mean: RoomTrace;
}

type Options = Pick<CheckedOptions, 'minProminenceDb' | 'listedHz' | 'toleranceHz'>;

/** How well a frequency on the user's own list explains a feature. */
const LISTED = 0.9;

/** Turn a cluster into a finding: where it is seen, what it comes from, how sure that is. */
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
  const enough = Math.min(0.5 * rimDepthDb(groups[group].mean, sought, tolerance), options.minProminenceDb);
  const sights = groups.flatMap(({ traces }) =>
    traces.map((trace) => ({ about: trace.about, sight: sightOf(trace, sought, tolerance, enough) })),
  );
  const count = (sight: Sight) => sights.filter((one) => one.sight === sight).length;
  const seen = sights.filter((one) => one.sight === 'seen');
  const units = new Set(seen.map(({ about }) => about.device)).size;
  const views = new Set(seen.map(({ about }) => JSON.stringify([about.device, about.setting, about.position]))).size;
  const agreement = seen.length === 0 ? 0 : 1 - 0.5 ** units * 0.8 ** (views - units);
  const { cause, explains } = causeFrom(frequencyHz, explained, units, options);
  const share = seen.length / Math.max(1, seen.length + count('not seen'));
  const sureness = 1 - Math.exp(-significance / 4);
  return {
    frequencyHz,
    kind,
    prominenceDb,
    depthDb,
    widthOctaves,
    maskHz,
    cause,
    confidence: share * sureness * (1 - (1 - agreement) * (1 - explains)),
    seenIn: seen.length,
    of: sights.length - count('not measured'),
    belongsTo: 'unknown',
    caveats: asCaveats(caveatsOf(kind, snrDb, count('drowned in noise'), sights.length)),
  };
}

function causeFrom(hz: number, explained: Explanation | null, units: number, options: Options): Explanation {
  const apart = (listed: number) => Math.abs(listed - hz);
  const listed = options.listedHz
    .filter((at) => apart(at) <= toleranceAt(at, options.toleranceHz))
    .sort((a, b) => apart(a) - apart(b))[0];
  if (listed !== undefined) {
    const detail = explained?.cause.detail;
    const cause = { type: 'listed' as const, ...(detail && { detail }), predictedHz: listed, mismatchHz: hz - listed };
    return { cause, explains: Math.max(LISTED, explained?.explains ?? 0) };
  }
  if (explained) return explained;
  if (units > 1) return { cause: { type: 'signature', detail: `seen with ${units} units` }, explains: 0 };
  return { cause: { type: 'unexplained' }, explains: 0 };
}

function caveatsOf(kind: 'dip' | 'peak', snrDb: number, drowned: number, of: number): string[] {
  const caveats: string[] = [];
  if (kind === 'dip' && snrDb < TRUSTED_SNR_DB) {
    caveats.push(
      `The bottom of this dip lies less than ${TRUSTED_SNR_DB} dB above the noise: it is at least this deep.`,
    );
  }
  if (drowned > 0) caveats.push(`In ${drowned} of ${of} curves noise hides whether it is there.`);
  return caveats;
}
