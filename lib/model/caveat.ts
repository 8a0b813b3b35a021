import type { Interval } from './interval';

/**
 * How much a caveat weighs. 'remark': good to know, the numbers stand. 'doubt': some of the numbers are not to be
 * trusted. 'warning': the whole finding is not to be used.
 */
export type Severity = 'remark' | 'doubt' | 'warning';

export type CaveatValue = string | number | boolean | null;
export type CaveatValues = Record<string, CaveatValue>;

/** What a caveat speaks of. */
export interface CaveatPlace {
  /** Id of a curve or recording. */
  curve?: string;
  device?: string;
  setting?: string;
  /** Name of a file that was read, and lines in it, counted from 1. */
  file?: string;
  lines?: number[];
  driveDb?: number[];
  rangesHz?: Interval[];
  /** Exact base-10 centres of fractional-octave bands. */
  bandsHz?: number[];
}

/** What a program refused with: `code`, `values`, `field` and `line` as a `BassloomError` has them. */
export interface Refused {
  code: string;
  values?: CaveatValues;
  field?: string;
  line?: number;
  /** In English. */
  message: string;
}

/**
 * Why numbers must not be taken at face value, or what was done to get them. Programs read `code`, `where` and
 * `values`; `message` is the English sentence made from them, and nothing reads it but people.
 */
export interface Caveat {
  /** Stable, kebab-case. */
  code: string;
  severity: Severity;
  where?: CaveatPlace;
  values: CaveatValues;
  /** The refusal it tells of. */
  because?: Refused;
  message: string;
}

/** Whether numbers of a finding are in doubt: remarks leave it as good as it was. */
export function isDoubted(finding: { caveats: readonly Caveat[] }): boolean {
  return finding.caveats.some(({ severity }) => severity !== 'remark');
}

/** Whether a finding is not to be used at all. */
export function isUnusable(finding: { caveats: readonly Caveat[] }): boolean {
  return finding.caveats.some(({ severity }) => severity === 'warning');
}

/** The same caveats, said of a file. */
export function inFile(file: string, caveats: readonly Caveat[]): Caveat[] {
  return caveats.map((caveat) => ({ ...caveat, where: { ...caveat.where, file } }));
}
