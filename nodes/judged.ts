import type { Caveat } from '../lib/model/caveat';
import type { Curve, Interval } from '../lib/model/curve';
import type { Findings } from '../lib/model/findings';
import type { Library } from './define';
import { choice, flag, number } from './fields';

/** Which of a session's runs an analysis looks at. */
export const judgedFields = { curves: choice(['reference', 'every'], { otherwise: 'reference' }) };

/** Whether an analysis looks past the room's dips. */
export const maskFields = {
  useMasks: flag(true),
  minConfidence: number({ min: 0, max: 1, otherwise: 0.5 }),
};

interface Judging {
  lib: Library;
  settings: { curves: 'reference' | 'every' };
  findings: Findings;
  curves(): Curve[];
  responses(): Curve[];
}

/** Every response, or of each unit and setting the run that is best judged by. */
export function judged({ lib, settings, findings, curves, responses }: Judging): Curve[] {
  const every = responses();
  return settings.curves === 'every' ? every : lib.referenceCurves(curves(), findings.ladder);
}

/** Where the dips are that earlier nodes are sure enough to be the room's. */
export function roomMasks(findings: Findings, settings: { useMasks: boolean; minConfidence: number }): Interval[] {
  if (!settings.useMasks) return [];
  return (findings.roomFeatures ?? [])
    .filter((feature) => feature.kind === 'dip' && feature.confidence >= settings.minConfidence)
    .map((feature) => feature.maskHz);
}

/** Both ends of a range, or nothing. */
export function rangeOf(lowHz: number | undefined, highHz: number | undefined): Interval | undefined {
  return lowHz === undefined || highHz === undefined ? undefined : [lowHz, highHz];
}

/** Whether anything speaks against some findings. */
export function isDoubtful(findings: { caveats: Caveat[] }[]): boolean {
  return findings.some((finding) => finding.caveats.some(({ severity }) => severity !== 'remark'));
}
