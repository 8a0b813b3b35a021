import type { Caveat } from '../../../model/caveat';
import type { Recording } from '../../../model/curve';
import { checkFinite } from '../../../wav/checkFinite';
import { fillFor, fitsSingle } from '../../../wav/fillColumn';
import { layOutWav } from '../../../wav/layOutWav';
import { makeRefusal } from '../../../words/makeRefusal';
import { checkSound } from '../../capture/checkSound';
import { extremesOf } from '../../capture/extremes';
import { type Clipping, clippingIn } from '../../capture/findClipping';
import { heldSamples } from './extent';

/** One channel of a recording; its samples are lent: the next one that is read may take their place. */
export interface Channel {
  label: string;
  samples: Float32Array | Float64Array;
  sampleRateHz: number;
  seconds: number;
  /** Step of quantisation of the format; 0 for floats. */
  finest: number;
}

/** What is to be known of a capture beside its sweep. */
export interface ChannelFacts {
  label: string;
  sampleRateHz: number;
  clipping: Clipping;
  /** Greatest sample value, full scale = 1. */
  peak: number;
  seconds: number;
  /** Until where there is sound, s. */
  heldS: number;
  /** What is wrong with the sound itself. */
  caveats: Caveat[];
}

/** Memory grows with it. */
const LONGEST_S = 1200;
const SHORTEST_S = 0.25;
/** Longest channel whose place in memory is kept from call to call, in samples: 8 MB. */
const LONGEST_KEPT = 2 ** 21;
let lent = new Float32Array(0);

/**
 * Decode one channel of a recording.
 *
 * @returns its samples, exact, until the next call.
 * @throws BassloomError `no-such-channel`, `capture-too-long`, `capture-too-short`, and those of `decodeWav`.
 */
export function readChannel(recording: Recording, channel: number): Channel {
  const { label, seconds } = recording;
  if (seconds > LONGEST_S) throw makeRefusal('capture-too-long', { label, seconds }, { field: 'capture' });
  const layout = layOutWav(recording.wav, label);
  const { channels, sampleRateHz, frames } = layout;
  if (channel > channels) throw makeRefusal('no-such-channel', { label, channel, channels }, { field: 'channel' });
  if (frames < SHORTEST_S * sampleRateHz) {
    throw makeRefusal('capture-too-short', { label, samples: frames }, { field: 'capture' });
  }
  checkFinite(layout, label);
  const samples = fitsSingle(layout) ? singles(frames) : new Float64Array(frames);
  const at = layout.start + (channel - 1) * layout.bytesPerSample;
  fillFor(layout)(samples, layout.view, at, layout.bytesPerFrame);
  const finest = layout.encoding === 'pcm' ? 2 ** (1 - 8 * layout.bytesPerSample) : 0;
  return { label, samples, sampleRateHz, seconds: frames / sampleRateHz, finest };
}

/** Memory for so many samples; fresh memory for each capture would cost more than reading it. */
function singles(count: number): Float32Array {
  if (count > LONGEST_KEPT) return new Float32Array(count);
  if (lent.length < count) lent = new Float32Array(count);
  return lent.subarray(0, count);
}

/** Look at a channel as it was recorded, before its rate is reduced. */
export function factsOf({ label, samples, sampleRateHz, seconds, finest }: Channel): ChannelFacts {
  const extremes = extremesOf(samples, finest);
  const clipping = clippingIn(samples, extremes);
  return {
    label,
    sampleRateHz,
    seconds,
    clipping,
    caveats: checkSound(samples, sampleRateHz, extremes, clipping.samples > 0),
    peak: Math.max(extremes.highest, -extremes.lowest),
    heldS: heldSamples(samples) / sampleRateHz,
  };
}
