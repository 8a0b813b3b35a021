import type { Caveat } from '../lib/model/caveat';
import type { Curve, Interval } from '../lib/model/curve';
import type { Findings, RoomFeature } from '../lib/model/findings';
import { makeCaveat } from '../lib/words/makeCaveat';
import type { Library } from './define';
import { choice, flag, number } from './fields';
import { oddRuns } from './oddRuns';

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
  if (settings.curves === 'every') return every;
  // an odd run keeps no other from being chosen
  const odd = new Set(oddRuns(lib, every).map(({ run }) => run));
  return lib.referenceCurves(
    curves().filter((curve) => !odd.has(curve)),
    findings.ladder,
  );
}

interface Masking {
  useMasks: boolean;
  minConfidence: number;
}

/** Where the dips are that were shown, surely enough, to be the room's, or that the user lists. */
export function roomMasks(findings: Findings, settings: Masking): Interval[] {
  return dipsOf(findings, settings)
    .filter((dip) => isMasked(dip, settings))
    .map((dip) => dip.maskHz);
}

/** Say that some dips were not masked, and why, where that is so. */
export function maskNotes(findings: Findings, settings: Masking): Caveat[] {
  const dips = dipsOf(findings, settings);
  const left = dips.filter((dip) => !isMasked(dip, settings));
  if (left.length === 0) return [];
  const unit = left.filter(({ belongsTo }) => belongsTo === 'unit').length;
  const rangesHz = left.map(({ maskHz }) => maskHz);
  const values = { masked: dips.length - left.length, unknown: left.length - unit, unit };
  return [makeCaveat('dips-not-masked', 'remark', values, { rangesHz })];
}

function dipsOf(findings: Findings, { useMasks }: Masking): RoomFeature[] {
  return useMasks ? (findings.roomFeatures ?? []).filter(({ kind }) => kind === 'dip') : [];
}

function isMasked({ belongsTo, cause, confidence }: RoomFeature, { minConfidence }: Masking): boolean {
  return cause.type === 'listed' || (belongsTo === 'room' && confidence >= minConfidence);
}

/** Both ends of a range, or nothing. */
export function rangeOf(lowHz: number | undefined, highHz: number | undefined): Interval | undefined {
  return lowHz === undefined || highHz === undefined ? undefined : [lowHz, highHz];
}
