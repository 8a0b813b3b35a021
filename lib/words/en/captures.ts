import type { Phrases } from '../phrase';

/** Captures: what is wrong with a recording, and what rests on it. */
export const captures = {
  'capture-not-good': ({ label, verdict }: { label: string; verdict: 'bad' | 'doubtful'; recording: string }) =>
    `The recording of ${label} is ${verdict}; see capture quality.`,
  'captures-not-good': ({ bad, doubtful }: { bad: number; doubtful: number }, _where, say) => {
    const parts = [...(bad > 0 ? [`${bad} bad`] : []), ...(doubtful > 0 ? [`${doubtful} doubtful`] : [])];
    return `${say.count(bad + doubtful, 'recording')} used here ${bad + doubtful === 1 ? 'is' : 'are'} not good (${parts.join(', ')}); see capture quality.`;
  },
} satisfies Phrases;
