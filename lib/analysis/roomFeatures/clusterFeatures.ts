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
    const members = [seed];
    for (let group = 0; group < groups.length; group++) {
      if (group === seed.group) continue;
      const nearest = free
        .filter((other) => other.group === group && other.feature.kind === seed.feature.kind)
        .sort((a, b) => away(a.feature, seed.feature) - away(b.feature, seed.feature))[0];
      const { frequencyHz } = seed.feature;
      if (nearest && away(nearest.feature, seed.feature) <= toleranceAt(frequencyHz, toleranceHz))
        members.push(nearest);
    }
    for (const member of members) free.splice(free.indexOf(member), 1);
    clusters.push({ kind: seed.feature.kind, frequencyHz: meanFrequency(members.map((m) => m.feature)), members });
  }
  return clusters.sort((a, b) => a.frequencyHz - b.frequencyHz);
}

function away(a: TraceFeature, b: TraceFeature): number {
  return Math.abs(a.frequencyHz - b.frequencyHz);
}

function weightOf({ significance }: TraceFeature): number {
  return Math.min(significance, 30);
}

function meanFrequency(features: TraceFeature[]): number {
  const weights = features.map(weightOf);
  const sum = features.reduce((total, feature, i) => total + weights[i] * Math.log(feature.frequencyHz), 0);
  return Math.exp(sum / weights.reduce((a, b) => a + b, 0));
}
