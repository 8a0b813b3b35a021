import { describe, expect, it } from 'vitest';
import { type BassloomError, deconvolveCapture, makeRecording, makeSweep, writeWav } from '../../lib';
import type { Curve, Measurement, Recording } from '../../lib/model/curve';
import { decodeWav } from '../../lib/wav/decodeWav';
import { judgeSession } from './judgeSession';
import { randomOf } from './simulatedSession';

/*
 * Sound files to sentences: four runs of one unit, as a recorder writes them, through deconvolution, analyses and page.
 * All made up: a wire with some echoes and white noise, 8000 samples a second.
 */

const RATE = 8000;
const DRIVES = [0, 3, 6, 9];

interface Take {
  /** Length of the sweep, s, and of the silence that is recorded after it; the stimulus has 3 s there. */
  seconds?: number;
  tailS?: number;
  /** Changes what the recorder hears. */
  spoil?: (samples: Float64Array, run: number) => Float64Array;
  /** What the header says, samples a second. */
  statedHz?: number;
  /** How long the room rings, s (the time in which 60 dB are lost), and how loud its echoes are together. */
  ringsS?: number;
  echoes?: number;
  /** Orders read; 1 where left out. */
  harmonics?: number;
  /** How many runs are taken; all where left out. */
  runs?: number;
  /** A noise run beside the captures. */
  withNoise?: boolean;
}

const sweepOf = (seconds: number) => makeSweep({ startHz: 5, endHz: 400, seconds, sampleRateHz: RATE, levelDbfs: -12 });

function normalOf(seed: number): () => number {
  const random = randomOf(seed);
  return () => Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
}

/** What a microphone hears of a stimulus played at a drive. */
function heard(stimulus: Recording, driveDb: number, { seconds = 4, tailS = 2, ringsS = 0.5, echoes = 0.5 }: Take) {
  const played = decodeWav(stimulus).channels[0];
  const [normal, random] = [normalOf(50 + driveDb), randomOf(7)];
  const gain = 0.1 * 10 ** (driveDb / 20);
  const samples = Float64Array.from({ length: Math.round(played.length + (tailS - 3) * RATE) }, () => 2e-6 * normal());
  const sizes = normalOf(9);
  const late = Array.from({ length: 60 }, (_, i) => (i === 0 ? 0.01 : 0.012 + ringsS * random()));
  for (const [i, at] of late.entries()) {
    const size = i === 0 ? gain : gain * echoes * 0.4 * sizes() * 10 ** ((-3 * (at - 0.01)) / ringsS);
    const from = Math.round(at * RATE);
    for (let n = from; n < samples.length && n - from < played.length; n++) samples[n] += size * played[n - from];
  }
  return { samples, seconds };
}

function recorded(samples: Float64Array, label: string, driveDb: number | undefined, statedHz = RATE): Recording {
  const wav = writeWav({ sampleRateHz: Math.round(statedHz), channels: [samples] }, { format: 'float32' });
  const about = driveDb === undefined ? {} : { device: 'unit', setting: 'plain', driveDb };
  return makeRecording(wav, { label, about });
}

/** Four runs, judged: what was refused, what the captures are called, and the page. */
function session(take: Take = {}) {
  const { spoil = (samples: Float64Array) => samples, statedHz } = take;
  const stimulus = sweepOf(take.seconds ?? 4);
  const silence = Float64Array.from({ length: 10 * RATE }, normalOf(3)).map((x) => 2e-6 * x);
  const noise = take.withNoise ? recorded(spoil(silence, -1), 'noise', undefined, statedHz) : undefined;
  const found = DRIVES.slice(0, take.runs).map((driveDb, run) => {
    const { samples } = heard(stimulus, driveDb, take);
    const capture = recorded(spoil(samples, run), `unit_plain_${driveDb}`, driveDb, statedHz);
    try {
      const options = { harmonics: take.harmonics ?? 1, pointsPerOctave: 24, ...(noise && { noise }) };
      return deconvolveCapture(capture, stimulus, options);
    } catch (problem) {
      return (problem as BassloomError).code;
    }
  });
  const refused = found.filter((one) => typeof one === 'string');
  const good = found.filter((one) => typeof one !== 'string');
  const measurements: Measurement[] = good.map(({ response }) => response as Curve);
  const quality = good.map((one) => one.quality);
  const codes = [...new Set(quality.flatMap(({ warnings }) => warnings.map(({ code }) => code)))];
  const verdicts = quality.map(({ verdict }) => verdict);
  const page = () => {
    const { html } = judgeSession(measurements, { quality }).report;
    return html
      .slice(html.indexOf('<main'), html.indexOf('</main>'))
      .replace(/<svg.*?<\/svg>|<[^>]*>/gs, ' ')
      .replace(/\s+/g, ' ');
  };
  return { refused, quality, codes, verdicts, page, responses: good.map(({ response }) => response) };
}

const hum = (amplitude: number) => (samples: Float64Array, run: number) =>
  samples.map((x, n) => x + amplitude * Math.sin((2 * Math.PI * 50.02 * n) / RATE + run));

describe('from sound files to the page', () => {
  it('a clean session gets no doubt', () => {
    const { verdicts, codes, page } = session();
    expect([verdicts, codes]).toEqual([DRIVES.map(() => 'good'), []]);
    expect(page()).not.toMatch(/is doubtful|is bad|Mains hum:|clipped,|Do not trust/);
  });

  it.each([false, true])('hum 20 dB under the sweep costs nothing, and is named (noise run: %s)', (withNoise) => {
    // the sweep of the quietest run arrives with an amplitude of 0.025
    const found = session({ tailS: 1, spoil: hum(0.0025), withNoise });
    const clean = session({ tailS: 1, withNoise });
    expect(found.verdicts).toEqual(DRIVES.map(() => 'good'));
    expect(found.codes).toEqual(['capture-hum']);
    found.responses.forEach(({ frequencyHz, levelDb }, run) => {
      frequencyHz.forEach((hz, i) => {
        if (hz > 10 && hz < 300) expect(Math.abs(levelDb[i] - clean.responses[run].levelDb[i])).toBeLessThan(0.6);
      });
    });
    expect(found.page()).toMatch(/Mains hum: −5\d\.\d dBFS at 50\.0 Hz/);
  });
});

/** Ahead of the converter, so that its noise lies on the tops. */
const cut = (at: number) => (samples: Float64Array) => {
  const normal = normalOf(41);
  return samples.map((x) => Math.max(-at, Math.min(at, x)) + 2e-6 * normal());
};

describe('what a recorder does to the last run stands on the page', () => {
  const last = (change: (samples: Float64Array) => Float64Array) => (samples: Float64Array, run: number) =>
    run === DRIVES.length - 1 ? change(samples) : samples;
  it.each<[string, string, RegExp, Take]>([
    [
      'an overloaded microphone',
      'capture-overloaded',
      /The tops are cut off at −\d+\.\d dBFS/,
      { spoil: last(cut(0.05)) },
    ],
    [
      'gaps',
      'capture-gaps',
      /gaps? in the sound, the first at 3\.00 s/,
      { spoil: last((samples) => samples.map((x, n) => (n > 3 * RATE && n < 3.02 * RATE ? 0 : x))) },
    ],
    [
      'lost samples',
      'capture-jumps',
      /The wave jumps in 1 place, first at 4\.0\d s/,
      {
        spoil: last((samples) => {
          const kept = samples.slice();
          kept.copyWithin(4 * RATE, 4 * RATE + 150);
          return kept;
        }),
      },
    ],
    [
      'two sweeps',
      'capture-several-sweeps',
      /The recording holds the sweep more than once/,
      { spoil: last((samples) => Float64Array.from([...samples, ...samples])) },
    ],
    [
      'automatic gain',
      'capture-gain-follows',
      /gain seems to follow the level/,
      { harmonics: 4, spoil: last((samples) => follow(samples)) },
    ],
  ])('%s', (_what, code, sentence, take) => {
    const { verdicts, codes, page } = session(take);
    expect(codes).toContain(code);
    expect(verdicts.slice(0, 3)).toEqual(['good', 'good', 'good']);
    expect(verdicts[3]).not.toBe('good');
    expect(page()).toMatch(sentence);
  });
});

/** A recorder that turns itself down by up to 26 dB, and up again by 12 dB a second. */
function follow(samples: Float64Array): Float64Array {
  const normal = normalOf(31);
  const loudest = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  let [gainDb, envelope] = [0, 0];
  return samples.map((clean) => {
    const x = clean + 1e-4 * loudest * 4 * normal();
    envelope = Math.max(Math.abs(x), envelope * (1 - 1 / (0.1 * RATE)));
    const wantedDb = Math.max(0, 20 * Math.log10(envelope / loudest) + 26);
    gainDb = wantedDb > gainDb ? gainDb + (wantedDb - gainDb) / (0.02 * RATE) : Math.max(wantedDb, gainDb - 12 / RATE);
    return x * 10 ** (-gainDb / 20);
  });
}

describe('a stimulus that is no sweep', () => {
  it('has the level of its sounding part, whatever silence stands around it', () => {
    const normal = normalOf(21);
    const sound = Float64Array.from({ length: 6 * RATE }, () => 0.05 * normal());
    const levels = [0.5, 9].map((silentS) => {
      const silent = new Float64Array(silentS * RATE);
      const samples = Float64Array.from([...silent, ...sound, ...silent]);
      const stimulus = recorded(samples, 'noise of its own', undefined);
      const capture = recorded(
        samples.map((x) => 0.5 * x),
        'take',
        0,
      );
      const { response, quality } = deconvolveCapture(capture, stimulus);
      expect(quality.warnings.map(({ code }) => code)).toContain('not-a-sweep');
      return response.levelDb[Math.floor(response.levelDb.length / 2)];
    });
    expect(Math.abs(levels[0] - levels[1])).toBeLessThan(0.1);
  });
});

describe('a sample rate that the header tells wrongly', () => {
  const rooms = [
    ['a room', { ringsS: 0.5, echoes: 0.5 }],
    ['a very reverberant room', { ringsS: 2, echoes: 1.5 }],
  ] as const;
  const cases = rooms.flatMap(([room, how]) =>
    [1, 2, 3, 8].flatMap((seconds) =>
      [44.1 / 48, 48 / 44.1].map((ratio) => ({ room, how, seconds, ratio: Number(ratio.toFixed(4)) })),
    ),
  );
  it.each(cases)(
    'is refused, bad or, of a short sweep, doubtful: $ratio times, a sweep of $seconds s in $room',
    ({ how, seconds, ratio }) => {
      const { refused, verdicts } = session({ ...how, seconds, runs: 2, statedHz: RATE * ratio });
      expect(refused.length + verdicts.length).toBe(2);
      if (seconds < 4) expect(verdicts).not.toContain('good');
      else expect(new Set(verdicts).size === 0 || verdicts.every((verdict) => verdict === 'bad')).toBe(true);
    },
  );
});
