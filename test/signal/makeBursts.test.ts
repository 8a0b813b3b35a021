import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../lib/rig/random';
import { type BurstSpec, burstSchedule, type ScheduledBurst } from '../../lib/signal/burstSchedule';
import { makeBursts } from '../../lib/signal/makeBursts';
import { makeSweep } from '../../lib/signal/makeSweep';
import { recogniseBursts } from '../../lib/signal/recogniseBursts';
import { decodeWav } from '../../lib/wav/decodeWav';

const spec: BurstSpec = { sampleRateHz: 8000, fromHz: 20, toHz: 63, lowestDbfs: -30, highestDbfs: -6, gapSeconds: 0.4 };

describe('bursts as a recording', () => {
  it.each([
    ['pcm16' as const, 2 ** -16],
    ['pcm24' as const, 2 ** -24],
    ['float64' as const, 0],
  ])('hold the samples of the schedule to half a step in %s', (format, most) => {
    const recording = makeBursts(spec, { format });
    const [channel] = decodeWav(recording.wav).channels;
    const wanted = burstSchedule(spec).samples;
    expect(channel).toHaveLength(wanted.length);
    let worst = 0;
    wanted.forEach((value, n) => {
      worst = Math.max(worst, Math.abs(channel[n] - value));
    });
    expect(worst).toBeLessThanOrEqual(most);
    expect(recording).toMatchObject({ kind: 'recording', role: 'stimulus', sampleRateHz: 8000, channels: 1 });
    expect(recording.seconds).toBeCloseTo(wanted.length / 8000, 9);
  });

  it('say what they are and warn, in their step and in the file', () => {
    const recording = makeBursts(spec);
    expect(recording.label).toBe('bursts 20-63 Hz, -30 to -6 dBFS');
    expect(recording.steps).toMatchObject([
      { did: 'make bursts', with: { ...spec, stepDb: 3, bursts: 54, format: 'pcm24' } },
    ]);
    expect(Buffer.from(recording.wav).toString('latin1')).toMatch(/Start at a low volume, wear hearing protection/);
  });

  it('refuse what the schedule refuses', () => {
    expect(() => makeBursts({ ...spec, toHz: 3000 })).toThrow(expect.objectContaining({ code: 'burst-range' }));
  });
});

describe('a schedule read back from its samples', () => {
  const expectSame = (found: ScheduledBurst[], spec: BurstSpec, withinDb: number) => {
    const { bursts } = burstSchedule(spec);
    expect(found.map(({ centreHz }) => centreHz)).toEqual(bursts.map(({ centreHz }) => centreHz));
    expect(found.map(({ atSample, samples }) => [atSample, samples])).toEqual(
      bursts.map(({ atSample, samples }) => [atSample, samples]),
    );
    found.forEach(({ levelDbfs }, i) => {
      expect(Math.abs(levelDbfs - bursts[i].levelDbfs)).toBeLessThan(withinDb);
    });
  };

  it.each([
    ['8 kHz, float', spec, 'float32', 1e-4],
    ['48 kHz, 16 bits', { ...spec, sampleRateHz: 48000, fromHz: 40, toHz: 160 }, 'pcm16', 0.01],
    ['44.1 kHz, 24 bits', { sampleRateHz: 44100, fromHz: 16, toHz: 31.5, stepDb: 6 }, 'pcm24', 1e-4],
    ['quiet ones in 16 bits', { ...spec, lowestDbfs: -66, highestDbfs: -54 }, 'pcm16', 0.1],
    ['a short gap', { ...spec, gapSeconds: 0.05 }, 'pcm24', 1e-4],
    ['a single one', { ...spec, toHz: 20, lowestDbfs: -6 }, 'pcm16', 0.01],
    ['10 to 1000 Hz', { ...spec, fromHz: 10, toHz: 1000, lowestDbfs: -6 }, 'pcm16', 0.01],
  ] as const)('is the one it was made of: %s', (_, made, format, withinDb) => {
    const { channels, sampleRateHz } = decodeWav(makeBursts(made, { format }).wav);
    expectSame(recogniseBursts(channels[0], sampleRateHz), made, withinDb);
  });

  it('does not mind dither of a 16-bit file, nor another polarity', () => {
    const random = randomFrom(['dither']);
    const { samples } = burstSchedule(spec);
    const step = 2 ** -15;
    // triangular dither, two steps wide from foot to foot
    const file = samples.map((x) => step * Math.round(-x / step + random.uniform() - random.uniform()));
    expectSame(recogniseBursts(file, 8000), spec, 0.02);
  });

  it.each([
    [
      'a sweep',
      () => decodeWav(makeSweep({ startHz: 10, endHz: 200, seconds: 3, sampleRateHz: 8000 }).wav).channels[0],
    ],
    ['silence', () => new Float64Array(8000)],
    ['nothing', () => new Float64Array(0)],
    ['noise', () => Float64Array.from({ length: 30000 }, () => randomNoise.normal() * 0.1)],
    ['a click', () => Float64Array.from({ length: 8000 }, (_, n) => (n === 4000 ? 1 : 0))],
    ['a tone', () => Float64Array.from({ length: 16000 }, (_, n) => (n < 4000 ? 0 : Math.sin(n / 30)))],
    ['bursts of five cycles', () => shortBursts()],
  ])('is refused where it is none: %s', (_, make) => {
    expect(() => recogniseBursts(make(), 8000)).toThrow(expect.objectContaining({ code: 'not-bursts' }));
  });
});

const randomNoise = randomFrom(['noise']);

function shortBursts(): Float64Array {
  const seconds = 5 / 40;
  return Float64Array.from({ length: 16000 }, (_, n) => {
    const t = n / 8000 - 1;
    return t > 0 && t < seconds ? Math.sin((Math.PI * t) / seconds) ** 2 * Math.sin(2 * Math.PI * 40 * t) : 0;
  });
}
