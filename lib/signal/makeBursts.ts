import type { Recording } from '../model/curve';
import { nominalHz } from '../model/octaves';
import { makeRecording } from '../wav/makeRecording';
import { writeWav } from '../wav/writeWav';
import { caution } from '../words/caution';
import { type BurstSpec, burstSchedule, type ScheduledBurst } from './burstSchedule';
import type { SweepFileOptions } from './makeSweep';
import { withDefaults } from './planBursts';

/**
 * Make the bursts to be played for the maximum output: tone bursts at third-octave centres, quiet ones first, as a mono WAV.
 *
 * @param spec centres (Hz), levels (dBFS), gap (s) and sample rate (Hz), as `burstSchedule` takes them.
 * @returns a stimulus; its step holds the spec and how many bursts came of it.
 * @throws BassloomError as `burstSchedule` does, and `bad-option` for an unknown format.
 *
 * Caution: see `burstSchedule`; the file carries the same warning.
 *
 * @example
 * writeFileSync('bursts.wav', makeBursts({ sampleRateHz: 48000, fromHz: 20, toHz: 63 }).wav);
 */
export function makeBursts(spec: BurstSpec, options: SweepFileOptions = {}): Recording {
  const { samples, bursts } = burstSchedule(spec);
  const format = options.format ?? 'pcm24';
  const label = labelOf(bursts);
  const comment = `${label}. ${caution('bursts')}`;
  const wav = writeWav({ sampleRateHz: spec.sampleRateHz, channels: [samples] }, { format, comment });
  const made = { bursts: bursts.length, format };
  return makeRecording(wav, {
    role: 'stimulus',
    label,
    steps: [{ did: 'make bursts', with: { ...withDefaults(spec), ...made } }],
  });
}

function labelOf(bursts: ScheduledBurst[]): string {
  const [first, last] = [bursts[0], bursts[bursts.length - 1]];
  const db = (level: number) => Number(level.toFixed(2));
  return `bursts ${nominalHz(first.centreHz)}-${nominalHz(last.centreHz)} Hz, ${db(first.levelDbfs)} to ${db(last.levelDbfs)} dBFS`;
}
