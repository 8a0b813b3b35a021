import { makeRefusal } from '../words/makeRefusal';
import { checkPlacedRoom, type PlacedRoom, type Room } from './room';
import { fitSmoothTail, type SmoothTail, smoothTailAt } from './smoothTail';
import { sumClosed } from './sumClosed';
import {
  type ClosedAxis,
  chooseClosedAxis,
  countTransverse,
  listTransverse,
  type TransverseTerms,
} from './transverseTerms';

/** What the room does to a point source, re its free field at 1 m. */
export interface Transfer {
  levelDb: number[];
  /** Degrees, wrapped to -180..180, re the phase of the source; delay is falling phase. */
  phaseDeg: number[];
}

/** Error of leaving terms out, as a part of the direct sound. */
const ALLOWED = 1e-7;

/** Frequencies up to here share one set of terms; above, each octave has its own. */
const FIRST_BLOCK_HZ = 100;

/** Some seconds of work. */
const MOST_TERMS = 3e7;

/**
 * Predict what a rectangular room does between source and microphone: the modal sum, all modes included.
 *
 * The walls are rigid, every mode is damped alike, as the reverberation time says, and the source is a point.
 * A real room departs from this by a few per cent in frequency and by some dB in level.
 *
 * @param room sizes and positions in m, `decayS` the reverberation time in s, `temperatureC`.
 * @param frequencyHz frequencies in Hz, > 0, in any order.
 * @returns level in dB and phase in degrees re free field at 1 m.
 * @throws BassloomError as for any room; `position-missing`; `frequency-not-positive`; `too-many-modes` where the sum
 * would take more than some seconds (large room, high frequencies, microphone very near).
 *
 * Notes: p = 4 pi sum psi(s) psi(r) / (V e (k_n^2 - k^2)), k^2 = (w^2 - 2 j d w) / c^2, d = 3 ln 10 / T, over all
 * modes n with the mean square e of psi. This triple sum converges slowly, so the axis with the largest separation D is
 * summed in closed form, -cos(K z) cos(K (L - Z)) / (K sin K L), K^2 = k^2 - kx^2 - ky^2, z < Z the two places on it;
 * written with decaying exponentials of g = j K nothing overflows. A transverse mode of wave number q then adds at most
 * 8 pi exp(-g D) / (g A) for each of its (up to four) signs, A the area across, g >= sqrt(q^2 - Re k^2). All beyond
 * g = G, on a lattice whose cell has the diagonal C, together add less than 32 exp(-(G - C) D) / D: the integral over
 * the lattice gives 16, and moving every point to the far corner of its cell costs C and at most a factor of 2. G is
 * chosen such that this is below 1e-7 of the direct sound, which is at least 1 / (sqrt(3) D). Modes of more than twice
 * the highest wave number change smoothly with frequency and are fitted once by a polynomial in k^2, as exactly.
 *
 * Reference: P. M. Morse and K. U. Ingard, Theoretical Acoustics, chapter 9 (from memory).
 *
 * @example
 * const room: Room = { lengthM: 6, widthM: 4.5, heightM: 2.5, source: [0.5, 1, 0.3], microphone: [4, 2.5, 1.1] };
 * predictTransfer(room, [20, 30, 40]).levelDb
 */
export function predictTransfer(room: Room, frequencyHz: number[]): Transfer {
  const placed = checkPlacedRoom(room);
  const axis = chooseClosedAxis(placed);
  checkFrequencies(frequencyHz);
  const blocks = planBlocks(placed, axis, frequencyHz);
  const levelDb = new Array<number>(frequencyHz.length);
  const phaseDeg = new Array<number>(frequencyHz.length);
  frequencyHz.forEach((hz, i) => {
    const { near, tail } = blocks.get(topOf(hz))!;
    const [kRe, kIm] = squaredWaveNumber(placed, hz);
    const [nearRe, nearIm] = sumClosed(near, axis, kRe, kIm);
    const [tailRe, tailIm] = tail ? smoothTailAt(tail, kRe, kIm) : [0, 0];
    const re = nearRe + tailRe;
    const im = nearIm + tailIm;
    levelDb[i] = 10 * Math.log10(re * re + im * im);
    phaseDeg[i] = (Math.atan2(im, re) * 180) / Math.PI;
  });
  return { levelDb, phaseDeg };
}

interface Block {
  near: TransverseTerms;
  tail: SmoothTail | null;
}

function topOf(hz: number): number {
  return FIRST_BLOCK_HZ * 2 ** Math.max(0, Math.ceil(Math.log2(hz / FIRST_BLOCK_HZ)));
}

function squaredWaveNumber({ c, damping }: PlacedRoom, hz: number): [re: number, im: number] {
  const w = 2 * Math.PI * hz;
  return [(w / c) ** 2, (-2 * damping * w) / c ** 2];
}

interface Limits {
  /** Greatest |k^2| of the block. */
  radius: number;
  /** Squared transverse wave numbers up to which terms are reckoned at each frequency, and where the sum ends. */
  near: number;
  end: number;
}

function limitsOf(room: PlacedRoom, axis: ClosedAxis, topHz: number): Limits {
  const [re, im] = squaredWaveNumber(room, topHz);
  const radius = Math.hypot(re, im);
  const apart = axis.highM - axis.lowM;
  const cell = Math.PI * Math.hypot(...room.sizeM.filter((_, i) => i !== axis.index).map((side) => 1 / side));
  const reach = Math.log((32 * Math.sqrt(3)) / ALLOWED) / apart + cell;
  const end = re + reach ** 2;
  return { radius, near: Math.min(4 * radius, end), end };
}

function planBlocks(room: PlacedRoom, axis: ClosedAxis, frequencyHz: number[]): Map<number, Block> {
  const limits = new Map<number, Limits>();
  let terms = 0;
  for (const hz of frequencyHz) {
    const top = topOf(hz);
    if (!limits.has(top)) {
      limits.set(top, limitsOf(room, axis, top));
      terms += 10 * countTransverse(room, axis.index, limits.get(top)!.end);
    }
    terms += countTransverse(room, axis.index, limits.get(top)!.near);
  }
  if (terms > MOST_TERMS) {
    throw makeRefusal('too-many-modes', { frequencies: frequencyHz.length, terms }, { field: 'frequencyHz' });
  }
  return new Map([...limits].map(([top, limit]) => [top, makeBlock(room, axis, limit)]));
}

function makeBlock(room: PlacedRoom, axis: ClosedAxis, { radius, near, end }: Limits): Block {
  return {
    near: listTransverse(room, axis.index, 0, near),
    tail: end > near ? fitSmoothTail(listTransverse(room, axis.index, near, end), axis, radius) : null,
  };
}

function checkFrequencies(frequencyHz: number[]): void {
  const index = frequencyHz.findIndex((hz) => !(hz > 0) || !Number.isFinite(hz));
  if (index < 0) return;
  throw makeRefusal('frequency-not-positive', { value: frequencyHz[index], index }, { field: 'frequencyHz' });
}
