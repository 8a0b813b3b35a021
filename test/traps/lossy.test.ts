import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { deconvolveCapture, makeSweep, readWav, writeWav } from '../../lib';
import type { Recording } from '../../lib/model/curve';
import { decodeWav } from '../../lib/wav/decodeWav';
import { hasSox, sox } from '../sox';
import { judgeSession } from './judgeSession';
import { randomOf } from './simulatedSession';

/*
 * What a lossy coder does to captures, with a coder that others wrote: Vorbis as sox (Debian) has it. The sound is made
 * up: a wire and white noise.
 */

const RATE = 48_000;
const stimulus = makeSweep({ startHz: 5, endHz: 400, seconds: 2, sampleRateHz: RATE, levelDbfs: -12 });
const folder = mkdtempSync(join(tmpdir(), 'bassloom-lossy-'));
afterAll(() => rmSync(folder, { recursive: true }));

function capture(driveDb: number, noise: number, how: 'plain' | 'coded' | 'resampled'): Recording {
  const random = randomOf(driveDb + 60);
  const normal = () => Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
  const gain = 0.1 * 10 ** (driveDb / 20);
  const samples = decodeWav(stimulus).channels[0].map((x) => gain * x + noise * normal());
  const [file, between, back] = ['in.wav', how === 'coded' ? 'in.ogg' : 'low.wav', 'out.wav'].map((name) =>
    join(folder, name),
  );
  writeFileSync(file, writeWav({ sampleRateHz: RATE, channels: [samples] }, { format: 'pcm24' }));
  if (how === 'coded') sox([file, '-C', 0, between]);
  if (how === 'resampled') sox([file, '-r', 32_000, between]);
  if (how !== 'plain') sox([between, '-b', 24, '-r', RATE, back]);
  const label = `unit_plain_${driveDb}`;
  const { recording } = readWav(readFileSync(how === 'plain' ? file : back), { name: `${label}.wav` });
  return { ...recording, about: { device: 'unit', setting: 'plain', driveDb } };
}

const judged = (recording: Recording) => deconvolveCapture(recording, stimulus, { harmonics: 1, pointsPerOctave: 24 });
const codesOf = ({ quality }: ReturnType<typeof judged>) => quality.warnings.map(({ code }) => code);

describe.runIf(hasSox)('captures that went through a lossy coder', () => {
  it('are doubted, and the page says why', () => {
    const runs = [0, 3, 6].map((driveDb) => judged(capture(driveDb, 1e-4, driveDb === 6 ? 'coded' : 'plain')));
    expect(runs.map(codesOf)).toEqual([[], [], ['capture-coded']]);
    expect(runs.map(({ quality }) => quality.verdict)).toEqual(['good', 'good', 'doubtful']);
    const { html } = judgeSession(
      runs.map(({ response }) => response),
      { quality: runs.map(({ quality }) => quality) },
    ).report;
    expect(html.replace(/\u00a0/g, ' ')).toMatch(/A lossy coder was at work: nothing is left above 1\d\.\d kHz/);
  });

  it('that only had another sample rate stay good', () => {
    const run = judged(capture(0, 1e-4, 'resampled'));
    expect([run.quality.verdict, codesOf(run)]).toEqual(['good', ['capture-band-limited']]);
  });

  it('are not said to have gaps where the coder silenced what was next to nothing', () => {
    expect(codesOf(judged(capture(0, 3e-6, 'coded')))).not.toContain('capture-gaps');
  });
});
