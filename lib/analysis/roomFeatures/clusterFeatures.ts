import { toleranceAt } from './featureOptions';
import type { TraceFeature } from './traceFeatures';

/** The same feature in one or more groups of runs. */
export interface FeatureCluster {
  kind: 'dip' | 'peak';
  frequencyHz: number;
  members: { group: number; feature: TraceFeature }[];
}

/**
 * Match features across groups of runs by frequency.
 *
 * @param groups features of each group. @param toleranceHz as in the options.
 * @returns clusters by frequency; each holds at most one feature of a group.
 *
 * Notes: the surest feature gathers the nearest of its kind from every other group; what is left forms further
 * clusters. The frequency is the mean of the members, weighted by prominence over noise, each weight capped so that one
 * clean group does not count alone.
 */
export function clusterFeatures(groups: TraceFeature[][], toleranceHz: number | undefined): FeatureCluster[] {
  const free = groups
    .flatMap((features, group) => features.map((feature) => ({ group, feature })))
    .sort((a, b) => weightOf(b.feature) - weightOf(a.feature) || b.feature.prominenceDb - a.feature.prominenceDb);
  const clusters: FeatureCluster[] = [];
  while (free.length > 0) {
    const seed = free[0];
    // gathered anew around the mean of the first gathering, so that the outermost of three a hertz apart is no stranger
    const first = gather(seed, seed.feature.frequencyHz, free, groups.length, toleranceHz);
    const centreHz = meanFrequency(first.map((one) => one.feature));
    const members = gather(seed, centreHz, free, groups.length, toleranceHz);
    for (const member of members) free.splice(free.indexOf(member), 1);
    clusters.push({ kind: seed.feature.kind, frequencyHz: meanFrequency(members.map((m) => m.feature)), members });
  }
  return clusters.sort((a, b) => a.frequencyHz - b.frequencyHz);
}

type Member = FeatureCluster['members'][number];

/** The seed, and of every other group the feature of its kind nearest to a frequency, where that is near enough. */
function gather(seed: Member, hz: number, free: Member[], groups: number, toleranceHz: number | undefined): Member[] {
  const members = [seed];
  for (let group = 0; group < groups; group++) {
    if (group === seed.group) continue;
    const [nearest] = free
      .filter((other) => other.group === group && other.feature.kind === seed.feature.kind)
      .sort((a, b) => away(a, hz) - away(b, hz));
    if (nearest && away(nearest, hz) <= toleranceAt(hz, toleranceHz)) members.push(nearest);
  }
  return members;
}

function away({ feature }: Member, hz: number): number {
  return Math.abs(feature.frequencyHz - hz);
}

function weightOf({ significance }: TraceFeature): number {
  return Math.min(significance, 30);
}

function meanFrequency(features: TraceFeature[]): number {
  const weights = features.map(weightOf);
  const sum = features.reduce((total, feature, i) => total + weights[i] * Math.log(feature.frequencyHz), 0);
  return Math.exp(sum / weights.reduce((a, b) => a + b, 0));
}
