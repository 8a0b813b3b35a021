import { decimate } from '../../signal/decimate';

/** Samples that are filtered at a time, so that a long capture is never held twice at its full rate. */
const CHUNK = 2 ** 19;

/**
 * Part of a capture at a lower sample rate, keeping a band from 0 Hz; what lies beyond its ends is silent.
 *
 * @param samples the whole capture. @param rate its sample rate, Hz. @param bandHz upper end of the band.
 * @param from @param to first sample and the one after the last; all of it where left out.
 * @returns samples, their rate (Hz), and the time of the first from the start of the capture, s.
 */
export function thinCapture(
  samples: Float32Array | Float64Array,
  rate: number,
  bandHz: number,
  from = 0,
  to = samples.length,
): { samples: Float64Array; rate: number; fromS: number } {
  const { factor } = decimate(new Float64Array(0), rate, { bandHz });
  // the low-pass reaches 0.82 / bandHz to both sides
  const margin = factor * Math.ceil(rate / bandHz / factor);
  const out = new Float64Array(Math.ceil((to - from) / factor));
  const chunk = factor * Math.ceil(CHUNK / factor);
  for (let at = from; at < to; at += chunk) {
    const size = Math.min(chunk, to - at);
    const part = cut(samples, at - margin, at + size + margin);
    const thin = decimate(part, rate, { bandHz, factor }).samples;
    const skip = margin / factor;
    out.set(thin.subarray(skip, skip + Math.ceil(size / factor)), (at - from) / factor);
  }
  return { samples: out, rate: rate / factor, fromS: from / rate };
}

function cut(samples: Float32Array | Float64Array, from: number, to: number): Float64Array {
  const part = new Float64Array(to - from);
  const first = Math.max(0, from);
  if (first < Math.min(to, samples.length))
    part.set(samples.subarray(first, Math.min(to, samples.length)), first - from);
  return part;
}
