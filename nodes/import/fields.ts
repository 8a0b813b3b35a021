import type { TextOptions } from '../../lib';
import { procedure } from '../configs';
import { choice, flag, number, text, type Values } from '../fields';

const signs: Record<string, string> = { comma: ',', semicolon: ';', tab: '\t', blanks: ' ' };

export const fields = {
  procedure,
  source: choice(['payload', 'files', 'watch'], { otherwise: 'payload' }),
  files: text(),
  leaveOut: text(),
  settleS: number({ min: 0, max: 3600, otherwise: 2 }),
  paced: flag(false),
  mostTextMb: number({ above: 0, max: 512, otherwise: 64 }),
  mostSoundMb: number({ above: 0, max: 2047, otherwise: 2047 }),
  mustMatch: flag(false),
  namePattern: text({ otherwise: '{device}_{setting}_step-{step}' }),
  stepDb: number({ above: 0, max: 60, otherwise: 3, procedure: 'stepDb' }),
  role: choice(['response', 'noise', 'correction']),
  recordingRole: choice(['capture', 'stimulus', 'programme']),
  channels: choice(['keep', 'choose', 'split'], { otherwise: 'keep' }),
  channel: number({ min: 1, max: 256, whole: true, otherwise: 1 }),
  scale: choice(['spl', 'relative']),
  delimiter: text(),
  decimal: choice(['.', ',']),
  encoding: text(),
  frequencyColumn: text(),
  levelColumn: text(),
  phaseColumn: text(),
  noiseColumn: text(),
  frequencyUnit: choice(['Hz', 'kHz']),
  levelUnit: choice(['dB', 'linear']),
  maxPoints: number({ min: 2, max: 1e7, whole: true }),
};

/** The dialog's fields as the library wants them. */
export function textOptions(settings: Values<typeof fields>): TextOptions {
  const { namePattern, stepDb, scale, delimiter, decimal, encoding, frequencyUnit, levelUnit, maxPoints } = settings;
  return {
    namePattern,
    stepDb,
    scale,
    encoding,
    frequencyUnit,
    levelUnit,
    maxPoints,
    delimiter: delimiter && (signs[delimiter] ?? delimiter),
    decimal,
    columns: {
      frequency: column(settings.frequencyColumn),
      level: column(settings.levelColumn),
      phase: column(settings.phaseColumn),
      noise: column(settings.noiseColumn),
    },
  };
}

function column(text: string | undefined): string | number | undefined {
  return text !== undefined && /^\d+$/.test(text) ? Number(text) : text;
}
