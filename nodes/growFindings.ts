import type { Findings } from '../lib/model/findings';

type BandFit = NonNullable<Findings['bandFit']>[number];
type RollOff = NonNullable<Findings['rollOff']>[number];
type Ladder = NonNullable<Findings['ladder']>[number];
type Distortion = NonNullable<Findings['distortion']>[number];
type MaximumOutput = NonNullable<Findings['maximumOutput']>[number];
type CaptureQuality = NonNullable<Findings['captureQuality']>[number];
type Note = NonNullable<Findings['notes']>[number];
type Difference = NonNullable<Findings['settingDifference']>[number];

/** What a finding is about: a new one about the same replaces the old one. Two runs may hold the same numbers. */
const subject: { [K in keyof Findings]?: (finding: never) => unknown[] } = {
  bandFit: ({ curve, label, about, heightDb }: BandFit) => [curve, label, about, heightDb],
  rollOff: ({ curve, label, about }: RollOff) => [curve, label, about],
  ladder: ({ device, setting }: Ladder) => [device, setting],
  settingDifference: ({ device, a, b }: Difference) => [device, a, b],
  distortion: ({ device, setting }: Distortion) => [device, setting],
  maximumOutput: ({ device, setting }: MaximumOutput) => [device, setting],
  captureQuality: ({ recording, label }: CaptureQuality) => [recording, label],
  notes: ({ code, values, where }: Note) => [code, values, where],
};

/**
 * Findings of before and now, as a new object: lists grow, everything else is replaced. What was concluded before is
 * dropped, as it knows nothing of what came since.
 */
export function growFindings(before: Findings, now: Findings): Findings {
  const { conclusions, ...kept } = before;
  const grown: Record<string, unknown> = { ...(Object.keys(now).length === 0 ? before : kept) };
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
