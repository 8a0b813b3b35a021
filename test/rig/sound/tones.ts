import type { Recording } from '../../../lib/model/curve';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';

/** A steady tone as a stimulus, float, with faded ends and silence around it. */
export function toneStimulus(hz: number, levelDbfs: number, seconds: number, sampleRateHz = 48000): Recording {
  const peak = 10 ** (levelDbfs / 20);
  const samples = Float64Array.from({ length: Math.round((seconds + 1) * sampleRateHz) }, (_, n) => {
    const t = n / sampleRateHz - 0.5;
    if (t < 0 || t > seconds) return 0;
    const fade = Math.min(1, t / 0.1, (seconds - t) / 0.1);
    return peak * Math.sin(2 * Math.PI * hz * t) * Math.sin((Math.PI / 2) * fade) ** 2;
  });
  return stimulusOf(samples, sampleRateHz);
}

export function stimulusOf(samples: ArrayLike<number>, sampleRateHz: number): Recording {
  return makeRecording(writeWav({ sampleRateHz, channels: [samples] }, { format: 'float64' }), {
    role: 'stimulus',
    label: 'test',
  });
}

/** Level (dB re a full-scale sine) and phase (degrees, of a sine at sample 0) of a tone in some samples: least squares under a Hann window. */
export function levelAt(samples: ArrayLike<number>, sampleRateHz: number, hz: number): { db: number; deg: number } {
  const length = samples.length;
  let [re, im, weight] = [0, 0, 0];
  for (let n = 0; n < length; n++) {
    const window = 1 - Math.cos((2 * Math.PI * (n + 0.5)) / length);
    const angle = (2 * Math.PI * hz * n) / sampleRateHz;
    re += window * samples[n] * Math.cos(angle);
    im -= window * samples[n] * Math.sin(angle);
    weight += window;
  }
  const peak = (2 * Math.hypot(re, im)) / weight;
  return { db: 20 * Math.log10(peak), deg: (Math.atan2(im, re) * 180) / Math.PI + 90 };
}
