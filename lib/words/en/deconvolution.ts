import type { Phrases } from '../phrase';

/** What a capture cannot tell, beside what is wrong with it. */
export const deconvolution = {
  'not-a-sweep': ({ stimulus }: { stimulus: string }) =>
    `${stimulus} is not an exponential sweep, so only the response can be read. Play an exponential sweep to measure distortion.`,
  'capture-noise-unknown': () =>
    'The noise is unknown, because the capture has no silent part. Record about a second before and three seconds after the stimulus, or give a capture of silence.',
  'earlier-stimulus': ({ stimulus }: { stimulus: string }) =>
    `The message brings no stimulus; the one of an earlier message was used: ${stimulus}.`,
} satisfies Phrases;
