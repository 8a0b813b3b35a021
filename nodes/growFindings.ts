import type { Findings } from '../lib/model/findings';

/** What a finding is about: a new one about the same replaces the old one. */
const subject: { [K in keyof Findings]?: (finding: never) => unknown[] } = {
  bandFit: (fit: NonNullable<Findings['bandFit']>[number]) => [fit.curve, fit.heightDb],
  rollOff: (rollOff: NonNullable<Findings['rollOff']>[number]) => [rollOff.curve],
  ladder: (ladder: NonNullable<Findings['ladder']>[number]) => [ladder.device, ladder.setting],
  settingDifference: (one: NonNullable<Findings['settingDifference']>[number]) => [one.device, one.a, one.b],
  notes: (note: string) => [note],
};

/** Findings of before and now, as a new object: lists grow, everything else is replaced. */
export function growFindings(before: Findings, now: Findings): Findings {
  const grown: Record<string, unknown> = { ...before };
  for (const key of Object.keys(now) as (keyof Findings)[]) {
    const about = subject[key] as ((finding: unknown) => unknown[]) | undefined;
    grown[key] = about ? merge((before[key] as unknown[]) ?? [], now[key] as unknown[], about) : now[key];
  }
  return grown as Findings;
}

function merge(before: unknown[], now: unknown[], about: (finding: unknown) => unknown[]): unknown[] {
  const keyed = new Map([...before, ...now].map((finding) => [JSON.stringify(about(finding)), finding]));
  return [...keyed.values()];
}
