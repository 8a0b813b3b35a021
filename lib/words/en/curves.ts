import type { Phrases } from '../phrase';

/** What speaks against numbers read from a curve: noise, roll-off, a session as a whole. */
export const curves = {
  /** A sentence that has no code yet. */
  said: ({ text }: { text: string }) => text,
  'near-noise': (
    { label, snrDb, lowHz, highHz }: { label: string; snrDb: number; lowHz: number; highHz: number },
    _where,
    say,
  ) =>
    `${label}: the signal is less than ${say.db(snrDb, 0)} above the noise ${
      highHz > lowHz ? `from ${say.hz(lowHz)} to ${say.hz(highHz)}` : `at ${say.hz(lowHz)}`
    }; do not trust numbers read there.`,
} satisfies Phrases;
