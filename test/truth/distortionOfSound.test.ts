import { beforeAll, describe, it } from 'vitest';
import { makeSweep, measureDistortion } from '../../lib';
import { deconvolveCapture } from '../../lib/analysis/deconvolution/deconvolveCapture';
import type { RigSpec } from '../../lib/rig/rigSpec';
import { drawSoundRig } from '../../lib/rig/sound/drawSoundRig';
import { playRig } from '../../lib/rig/sound/playRig';
import type { SoundTruth } from '../../lib/rig/sound/soundTruth';
import { Worst } from './worst';

/*
 * The whole way: a sweep is played through a virtual unit in a room, recorded, taken apart, and its distortion measured.
 * The truth is what a steady tone becomes in closed form. Limiters are left out: a sweep meets them on the move, a
 * steady tone does not.
 */

const SEEDS = [1, 2, 3];
const POINTS = 24;

/** True THD over a third octave: mean harmonic power over mean fundamental power, equal weight to each Hz. */
function trueThdDb(truth: SoundTruth, centreHz: number): number {
  const hz = Array.from({ length: POINTS }, (_, i) => centreHz * 10 ** (-0.05 + (0.1 * (i + 0.5)) / POINTS));
  const { levelDbfs, thdPercent } = truth.tone(hz);
  let [fundamental, harmonics] = [0, 0];
  hz.forEach((f, i) => {
    const power = f * 10 ** (levelDbfs[i] / 10);
    fundamental += power;
    harmonics += power * (thdPercent[i] / 100) ** 2;
  });
  return 10 * Math.log10(harmonics / fundamental);
}

describe('distortion of sweeps through virtual units', () => {
  const worst = new Worst();

  beforeAll(() => {
    const sweep = makeSweep({ startHz: 5, endHz: 400, seconds: 12, sampleRateHz: 48000 });
    for (const seed of SEEDS) {
      const noise: RigSpec['noise'] = { at20HzDb: 5, slopeDbPerOctave: -6 };
      const rig = drawSoundRig(seed, { soundLimiter: undefined, noise });
      const rungs = [0.5, 1].map((share) => Math.floor(share * (rig.drive.rungs - 1)));
      const runs = rungs.map((rung) => {
        const run = { setting: rig.settings[0].name, driveDb: rung * rig.drive.commandedStepDb };
        const { capture, truth } = playRig(rig, sweep, run);
        return { truth, ...deconvolveCapture(capture, sweep) };
      });
      const found = measureDistortion(runs.flatMap(({ response, harmonics }) => [response, ...harmonics]));
      runs.forEach(({ truth }, rung) => {
        found.bandsHz.forEach((hz, band) => {
          if (hz < 15.5 || !found.trusted[rung][band]) return;
          const where = `seed ${seed}, rung ${rung}, ${hz.toFixed(0)} Hz`;
          const thdDb = 20 * Math.log10(found.thdPercent[rung][band]! / 100);
          const clearDb = thdDb - 20 * Math.log10(found.noisePercent[rung][band]! / 100);
          const error = thdDb - trueThdDb(truth, hz);
          if (clearDb > 20) worst.add('THD well above the noise, dB', error, 0.3, where);
          else worst.add('THD above the noise, dB', error, 1.5, where);
        });
      });
    }
    worst.print('distortion of sweeps');
  });

  it('is right within 0.3 dB from 16 Hz up where harmonics stand 20 dB above the noise', () => {
    worst.hold('THD well above the noise, dB', 40);
  });
  it('is right within 1.5 dB wherever it is trusted', () => {
    worst.hold('THD above the noise, dB', 3);
  });
});
