import type { Phrases } from '../phrase';

/** Setting difference. */
export const settings = {
  'setting-drives-differ': ({ db }: { db: number }, _where, say) =>
    `The drives differ by ${say.db(db)}; this was subtracted.`,
  'setting-drives-unknown': () => 'The drives of the two runs are not known; they were taken to be equal.',
  'setting-matched-by-level': ({ lowHz, highHz }: { lowHz: number; highHz: number }, _where, say) =>
    `The drive of only one of the runs is known, so they were compared at equal level from ${say.hzRange(lowHz, highHz)}: what the switch does to the level as a whole cannot be told.`,
  'setting-limiting-unknown': ({ names }: { names: string }) =>
    `No compression ladder tells whether ${names} was limited already; if so, the limiting is part of the difference.`,
  'setting-limited': ({ setting }: { setting: string }, { bandsHz = [] }, say) =>
    `‘${setting}’ is limited already at ${say.bands(bandsHz)}: the difference there was not used. Compare at a lower drive.`,
  'setting-band-untrusted': ({ setting }: { setting: string }, { bandsHz = [] }, say) =>
    `The level of ‘${setting}’ at ${say.bands(bandsHz)} cannot be trusted (noise, or limiting that it hides): the difference there was not used.`,
  'setting-too-little': () => 'Too little of the difference stands out of the noise to be judged. Measure louder.',
  'setting-offset-removed': ({ db }: { db: number }, _where, say) =>
    `The runs differ by ${say.dbChange(db, 2)} as a whole, no more than repeats do; this was removed.`,
  'setting-level-changed': ({ db }: { db: number }, _where, say) =>
    `The switch also changes the level as a whole, by ${say.dbChange(db)}; the hinge is counted from there.`,
  'setting-asymptote-not-seen': ({ lowestDb, lowestHz }: { lowestDb: number; lowestHz: number }, _where, say) =>
    `The difference does not level off within the trusted range: the hinge is where it reaches half of the ${say.dbChange(lowestDb)} at ${say.hz(lowestHz)}.`,
  'setting-asymptote-foretold': ({ lowestDb, lowestHz }: { lowestDb: number; lowestHz: number }, _where, say) =>
    `The difference reaches only ${say.dbChange(lowestDb)}, at ${say.hz(lowestHz)}; where it levels off is extrapolated from the shape that fits it.`,
  'setting-top-differs': ({ topHz }: { topHz: number }, _where, say) =>
    `Above about ${say.hz(topHz)} the settings differ by something else as well, such as a low-pass; that part is not described.`,
  'setting-not-shown': ({ lowestHz }: { lowestHz: number }, _where, say) =>
    `The trusted part (from ${say.hz(lowestHz)} up) does not show what the switch does. Measure louder, in less noise, or further down.`,
  'setting-no-common-position': ({ device }: { device: string | null }) =>
    `The settings of ${device ?? 'the unit'} were not compared: they were not measured at a common position.`,
  'setting-only-one': ({ device }: { device: string | null }) =>
    `No settings of ${device ?? 'the unit'} were compared: it was measured in one setting only.`,
} satisfies Phrases;
