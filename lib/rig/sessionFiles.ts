import type { Curve } from '../model/curve';
import { measureSession } from './measureSession';
import type { RigSpec } from './rigSpec';

/** A text file that has not been written yet. */
export interface TextFile {
  name: string;
  text: string;
}

/**
 * Measure a session and put it into ordinary text files, as a measuring person would keep them.
 *
 * @param rig the bench.
 * @returns one file for each run, named `{device}_{setting}_step-{step}.txt` (steps from 01), `noise.txt` for the
 *   muted run and `microphone-correction.txt`; columns parted by semicolons under a short heading, LF.
 * @throws BassloomError `bad-grid`.
 *
 * Notes: the same rig always gives the same bytes. Hertz to four decimals, levels to hundredths of a decibel.
 *
 * @example
 * sessionFiles(demoRig())[0].name // 'Marrowby-12_shelf-flat_step-01.txt'
 */
export function sessionFiles(rig: RigSpec): TextFile[] {
  const { curves, noise, correction } = measureSession(rig);
  const { commandedStepDb, rungs } = rig.drive;
  const files = curves.map((curve) => {
    const step = 1 + Math.round(curve.about.driveDb! / commandedStepDb);
    const twoDigits = String(step).padStart(2, '0');
    return {
      name: `${curve.about.device}_${curve.about.setting}_step-${twoDigits}.txt`,
      text: written(curve, [
        `Response of ${curve.about.device}, switch at ${curve.about.setting}`,
        `Drive step ${step} of ${rungs}, each ${commandedStepDb} dB louder than the one before`,
        'Sound pressure level re 20 uPa as read, microphone not corrected',
      ]),
    };
  });
  if (noise) {
    const heading = ['Noise of the room, loudspeaker muted', 'Sound pressure level re 20 uPa as read'];
    files.push({ name: 'noise.txt', text: written(noise, heading) });
  }
  if (correction) {
    const heading = ['What the microphone adds to every level; to be subtracted'];
    files.push({ name: 'microphone-correction.txt', text: written(correction, heading) });
  }
  return files;
}

function written(curve: Curve, heading: string[]): string {
  const { frequencyHz, levelDb, phaseDeg } = curve;
  const withPhase = curve.role === 'response' && phaseDeg;
  const names = ['frequency (Hz)', 'level (dB)', ...(withPhase ? ['phase (degrees)'] : [])];
  const rows = frequencyHz.map((hz, i) => {
    const row = [hz.toFixed(4), levelDb[i].toFixed(2)];
    if (withPhase) row.push(phaseDeg[i].toFixed(1));
    return row.join(';');
  });
  return `${[...heading.map((line) => `# ${line}`), names.join(';'), ...rows].join('\n')}\n`;
}
