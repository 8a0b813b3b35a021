/** Blocks in which the silence is looked for, s. */
const BLOCK_S = 0.005;
/** This share of all blocks is silent, at least. */
const SILENT_SHARE = 0.05;
/** Highest of many samples of noise above its root mean square. */
const CREST = 8;
/** Stretches closer than this share of the longer one belong together: a half-cycle of a burst is a thirteenth. */
const JOIN_SHARE = 0.1;
/** Pieces this small beside the longest stretch are ticks of dither, not bursts. */
const LEAST_SHARE = 0.003;

/**
 * Find the parts of a sound that stand out of its silence.
 *
 * @param samples a sound with silence between its parts. @param sampleRateHz sample rate, Hz.
 * @returns first sample and the one after the last of each part, in order; none where nothing stands out.
 *
 * Notes: the silence is the quietest twentieth of the sound; what exceeds eight times its root mean square is loud.
 *
 * @example
 * loudStretches([0, 0, 0, 0, 1, 1, 0, 0, 0, 0], 200) // [[4, 6]]
 */
export function loudStretches(samples: ArrayLike<number>, sampleRateHz: number): [from: number, to: number][] {
  const threshold = CREST * silenceOf(samples, Math.max(1, Math.round(BLOCK_S * sampleRateHz)));
  const stretches: [number, number][] = [];
  const near = Math.max(1, Math.round(BLOCK_S * sampleRateHz));
  for (let n = 0; n < samples.length; n++) {
    if (!(Math.abs(samples[n]) > threshold)) continue;
    const last = stretches[stretches.length - 1];
    if (last && n - last[1] < near) last[1] = n + 1;
    else stretches.push([n, n + 1]);
  }
  return join(stretches);
}

function silenceOf(samples: ArrayLike<number>, block: number): number {
  const powers: number[] = [];
  for (let from = 0; from + block <= samples.length; from += block) {
    let sum = 0;
    for (let n = from; n < from + block; n++) sum += samples[n] ** 2;
    powers.push(sum / block);
  }
  powers.sort((a, b) => a - b);
  return Math.sqrt(powers[Math.floor(powers.length * SILENT_SHARE)] ?? 0);
}

/** Put pieces back together that the crossings at a burst's faint ends have split. */
function join(pieces: [number, number][]): [number, number][] {
  let joined = pieces;
  for (let before = -1; before !== joined.length; ) {
    before = joined.length;
    const next: [number, number][] = [];
    for (const piece of joined) {
      const last = next[next.length - 1];
      const longer = last && Math.max(last[1] - last[0], piece[1] - piece[0]);
      if (last && piece[0] - last[1] < JOIN_SHARE * longer) last[1] = piece[1];
      else next.push([...piece]);
    }
    joined = next;
  }
  const longest = joined.reduce((most, [from, to]) => Math.max(most, to - from), 0);
  return joined.filter(([from, to]) => to - from > LEAST_SHARE * longest);
}
