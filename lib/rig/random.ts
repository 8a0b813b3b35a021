const SIZE = 624;
const MIDDLE = 397;

/** A repeatable source of random numbers. */
export interface Random {
  /** Evenly spread over [0, 1), 53 bits. */
  uniform(): number;
  /** Evenly spread over [low, high). */
  between(low: number, high: number): number;
  /** Normal with mean 0 and standard deviation 1. */
  normal(): number;
  /** One of a list, all equally likely. */
  pick<T>(list: readonly T[]): T;
}

/**
 * Start a repeatable source of random numbers.
 *
 * @param key what the numbers are for, e.g. `[seed, 'noise', 3]`; equal keys give equal numbers,
 *   different keys independent ones, so that the order in which runs are taken does not matter.
 * @returns the source; it keeps its own state.
 *
 * Notes: Mersenne Twister MT19937 with initialisation by array, 53-bit fractions, normal deviates by the polar
 * method. Not for secrets.
 *
 * Reference: M. Matsumoto, T. Nishimura, ACM Trans. Model. Comput. Simul. 8 (1998) 3-30; polar method: G. Marsaglia,
 * T. Bray, SIAM Review 6 (1964) 260-264.
 *
 * @example
 * randomFrom([1, 2, 3]).uniform() // 0.6098612722867289
 */
export function randomFrom(key: (number | string)[]): Random {
  const next = twister(seedArray(key.flatMap(wordsOf)));
  let spare: number | undefined;

  const uniform = () => {
    const high = next() >>> 5;
    const low = next() >>> 6;
    return (high * 0x4000000 + low) / 0x20000000000000;
  };
  const normal = () => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const scale = Math.sqrt((-2 * Math.log(square)) / square);
      spare = y * scale;
      return x * scale;
    }
  };
  return {
    uniform,
    normal,
    between: (low, high) => low + (high - low) * uniform(),
    pick: (list) => list[Math.floor(uniform() * list.length)],
  };
}

// A text cannot collide with a small number: its letters follow a word that says how many they are.
function wordsOf(part: number | string): number[] {
  if (typeof part === 'string') return [0x80000000 + part.length, ...Array.from(part, (c) => c.codePointAt(0)!)];
  if (Number.isInteger(part) && part >= 0 && part < 0x80000000) return [part];
  const bits = new Uint32Array(Float64Array.of(part).buffer);
  return [0xffffffff, bits[0], bits[1]];
}

function seedArray(key: number[]): Uint32Array {
  const state = new Uint32Array(SIZE);
  state[0] = 19650218;
  for (let i = 1; i < SIZE; i++) state[i] = Math.imul(1812433253, state[i - 1] ^ (state[i - 1] >>> 30)) + i;
  let i = 1;
  let j = 0;
  const wrap = () => {
    if (++i < SIZE) return;
    state[0] = state[SIZE - 1];
    i = 1;
  };
  for (let k = Math.max(SIZE, key.length); k > 0; k--) {
    const mixed = Math.imul(state[i - 1] ^ (state[i - 1] >>> 30), 1664525);
    state[i] = (state[i] ^ mixed) + key[j] + j;
    wrap();
    j = (j + 1) % key.length;
  }
  for (let k = SIZE - 1; k > 0; k--) {
    state[i] = (state[i] ^ Math.imul(state[i - 1] ^ (state[i - 1] >>> 30), 1566083941)) - i;
    wrap();
  }
  state[0] = 0x80000000;
  return state;
}

function twister(state: Uint32Array): () => number {
  let at = SIZE;
  const refill = () => {
    for (let k = 0; k < SIZE; k++) {
      const y = (state[k] & 0x80000000) | (state[(k + 1) % SIZE] & 0x7fffffff);
      state[k] = state[(k + MIDDLE) % SIZE] ^ (y >>> 1) ^ (y & 1 ? 0x9908b0df : 0);
    }
    at = 0;
  };
  return () => {
    if (at >= SIZE) refill();
    let y = state[at++];
    y ^= y >>> 11;
    y ^= (y << 7) & 0x9d2c5680;
    y ^= (y << 15) & 0xefc60000;
    return (y ^ (y >>> 18)) >>> 0;
  };
}
