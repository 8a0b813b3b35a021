import { median } from '../../fitting/median';
import { solveDamped } from '../../fitting/solveDamped';

/** A stretch of time, s. */
type Stretch = [fromS: number, toS: number];

/** Sums of the sound turned back by the line are kept per so many seconds. */
const PART_S = 0.025;
/** A block of them tells one line from another 2 Hz away; a new one begins every tenth of it. */
const PARTS = 40;
const HOP = 4;
const FEWEST_BLOCKS = 4;
/** Of the line's power in quiet blocks, so much at most may be left where the line is taken out. */
const LEFT = 0.15;
/** From so many seconds on the frequency may drift as well. */
const DRIFT_S = 8;
/** The line is looked for within that of where it was said to be, Hz. */
const OFF_HZ = 0.25;
/** Drifts tried to each side, radians at the ends. */
const BENDS = 4;
/** Further off than so many median deviations, a block holds something else. */
const OUTLIER = 4;
/** Closer than that share of the amplitude, no block is an outlier. */
const ALIKE = 0.01;
const PASSES = 4;

/**
 * Take steady lines, such as mains hum, out of a capture: also where the stimulus covers them.
 *
 * @param samples the capture. @param rateHz its sample rate. @param linesHz where lines are, Hz, within some 0.1 Hz.
 * @param busyAt when the stimulus or its ringing fills a frequency.
 * @returns the capture without the lines that could be followed (a new array if any), and those lines.
 *
 * Notes: each line is followed in blocks of a second where the stimulus is not, and carried on through where it is, as
 * one amplitude and a phase that is a polynomial of time, linear where little of it is seen and else quadratic: mains
 * wanders slowly. Blocks that do not fit (a harmonic of the sweep in passing, a knock) do not count. A line that is not
 * steady enough for that stays, and in the noise.
 *
 * @example
 * removeHum(samples, 3000, [50, 100], (hz) => [2 + 4.6 * Math.log(hz / 5), 5 + 4.6 * Math.log(hz / 5)])
 */
export function removeHum(
  samples: Float64Array,
  rateHz: number,
  linesHz: number[],
  busyAt: (hz: number) => Stretch,
): { samples: Float64Array; removedHz: number[] } {
  let out = samples;
  const removedHz: number[] = [];
  for (const hz of linesHz) {
    const line = followLine(out, rateHz, hz, busyAt(hz));
    if (!line) continue;
    if (out === samples) out = samples.slice();
    takeOut(out, rateHz, hz, line);
    removedHz.push(hz);
  }
  return { samples: out, removedHz };
}

/** Amplitude, and phase against the line's nominal frequency as a + b u + c u^2, u = t - middleS. */
interface Line {
  amplitude: number;
  phase: Float64Array;
  middleS: number;
}

interface Block {
  atS: number;
  re: number;
  im: number;
}

function followLine(samples: Float64Array, rateHz: number, hz: number, busy: Stretch): Line | undefined {
  const blocks = quietBlocks(samples, rateHz, hz, busy);
  if (blocks.length < FEWEST_BLOCKS) return undefined;
  const size = median(blocks.map(({ re, im }) => Math.hypot(re, im)));
  const inSize = blocks.filter(({ re, im }) => Math.abs(Math.hypot(re, im) - size) < 0.5 * size);
  let line = roughLine(inSize.length < FEWEST_BLOCKS ? blocks : inSize, size);
  let used = inSize;
  for (let pass = 0; pass < PASSES && used.length >= FEWEST_BLOCKS; pass++) {
    line = refined(used, line);
    const misses = blocks.map((block) => missOf(block, line));
    const limit = Math.max(OUTLIER * median(used.map((block) => missOf(block, line))), ALIKE * line.amplitude);
    used = blocks.filter((_, i) => misses[i] <= limit);
  }
  const power = (of: (block: Block) => number) => median(used.map((block) => of(block) ** 2));
  const left = power((block) => missOf(block, line)) / power(({ re, im }) => Math.hypot(re, im));
  return used.length >= FEWEST_BLOCKS && used.length >= blocks.length / 3 && left < LEFT ? line : undefined;
}

/** Frequency and drift under which the blocks agree best: no phase has to be carried over the gap. */
function roughLine(blocks: Block[], size: number): Line {
  const [first, last] = [blocks[0].atS, blocks[blocks.length - 1].atS];
  const half = Math.max((last - first) / 2, 1e-3);
  const middleS = (first + last) / 2;
  const slopes = Math.ceil(2 * Math.PI * OFF_HZ * half);
  const bends = 2 * half > DRIFT_S ? BENDS : 0;
  let best = { size: -1, phase: new Float64Array(3) };
  for (let bend = -bends; bend <= bends; bend++) {
    for (let slope = -slopes; slope <= slopes; slope++) {
      const phase = Float64Array.of(0, slope / half, bend / half ** 2);
      let [re, im] = [0, 0];
      for (const block of blocks) {
        // every block has one voice, however loud
        const scale = 1 / Math.max(Math.hypot(block.re, block.im), 1e-30);
        const angle = phaseAt({ amplitude: 1, phase, middleS }, block.atS);
        re += scale * (block.re * Math.cos(angle) + block.im * Math.sin(angle));
        im += scale * (block.im * Math.cos(angle) - block.re * Math.sin(angle));
      }
      if (Math.hypot(re, im) <= best.size) continue;
      phase[0] = Math.atan2(im, re);
      best = { size: Math.hypot(re, im), phase };
    }
  }
  return { amplitude: size, phase: best.phase, middleS };
}

/** Least squares of what a line's phase leaves. */
function refined(blocks: Block[], rough: Line): Line {
  const { middleS } = rough;
  const order = blocks[blocks.length - 1].atS - blocks[0].atS > DRIFT_S ? 3 : 2;
  const normal = new Float64Array(order * order);
  const right = new Float64Array(order);
  for (const { atS, re, im } of blocks) {
    const angle = phaseAt(rough, atS);
    const left = Math.atan2(im * Math.cos(angle) - re * Math.sin(angle), re * Math.cos(angle) + im * Math.sin(angle));
    const powers = Array.from({ length: order }, (_, p) => (atS - middleS) ** p);
    for (let a = 0; a < order; a++) {
      right[a] += powers[a] * left;
      for (let b = 0; b < order; b++) normal[a * order + b] += powers[a] * powers[b];
    }
  }
  const more = solveDamped(normal, right, 1e-9);
  const phase = rough.phase.map((x, p) => x + (more[p] ?? 0));
  const bare: Line = { amplitude: 1, phase, middleS };
  const along = blocks.map(({ atS, re, im }) => {
    const angle = phaseAt(bare, atS);
    return re * Math.cos(angle) + im * Math.sin(angle);
  });
  return { ...bare, amplitude: along.reduce((sum, x) => sum + x, 0) / along.length };
}

function phaseAt({ phase, middleS }: Line, seconds: number): number {
  const u = seconds - middleS;
  return phase[0] + u * (phase[1] + u * phase[2]);
}

function missOf({ atS, re, im }: Block, line: Line): number {
  const angle = phaseAt(line, atS);
  return Math.hypot(re - line.amplitude * Math.cos(angle), im - line.amplitude * Math.sin(angle));
}

/** Amplitude and phase of a line in blocks under a Hann window that the stimulus does not touch. */
function quietBlocks(samples: Float64Array, rateHz: number, hz: number, [from, to]: Stretch): Block[] {
  const length = Math.round(PART_S * rateHz);
  const sums = partSums(samples, rateHz, hz, length);
  const window = Float64Array.from({ length: PARTS }, (_, k) => 1 - Math.cos((2 * Math.PI * (k + 0.5)) / PARTS));
  const scale = 2 / (PARTS * length);
  const blocks: Block[] = [];
  for (let first = 0; first + PARTS <= sums.length / 2; first += HOP) {
    const start = (first * length) / rateHz;
    const end = ((first + PARTS) * length) / rateHz;
    if (end > from && start < to) continue;
    let [re, im] = [0, 0];
    for (let k = 0; k < PARTS; k++) {
      re += window[k] * sums[2 * (first + k)];
      im += window[k] * sums[2 * (first + k) + 1];
    }
    blocks.push({ atS: (start + end) / 2, re: scale * re, im: scale * im });
  }
  return blocks;
}

/** Sums of x(t) exp(-j 2 pi f t) over short parts. */
function partSums(samples: Float64Array, rateHz: number, hz: number, length: number): Float64Array {
  const count = Math.floor(samples.length / length);
  const sums = new Float64Array(2 * count);
  const [turnRe, turnIm] = turnOf(hz / rateHz);
  for (let k = 0; k < count; k++) {
    let [re, im] = turnOf((hz * k * length) / rateHz);
    for (let n = k * length; n < (k + 1) * length; n++) {
      sums[2 * k] += samples[n] * re;
      sums[2 * k + 1] -= samples[n] * im;
      [re, im] = [re * turnRe - im * turnIm, re * turnIm + im * turnRe];
    }
  }
  return sums;
}

function takeOut(samples: Float64Array, rateHz: number, hz: number, line: Line): void {
  for (let n = 0; n < samples.length; n++) {
    const seconds = n / rateHz;
    const turns = hz * seconds;
    samples[n] -= line.amplitude * Math.cos(2 * Math.PI * (turns - Math.floor(turns)) + phaseAt(line, seconds));
  }
}

function turnOf(turns: number): [re: number, im: number] {
  const angle = 2 * Math.PI * (turns - Math.floor(turns));
  return [Math.cos(angle), Math.sin(angle)];
}
