import { type Caveat, isDoubted } from '../../model/caveat';
import { nominalHz } from '../../model/octaves';
import { formatDb, formatHz, formatHzRange } from '../format';
import type { SettingView } from '../session';
import { firstOnsets } from '../verdict/compressionSentences';
import { formatDrive } from '../verdict/drive';

/** A value, marked where something speaks against it. */
export function flagged(text: string, finding: { caveats: Caveat[] }): string {
  return isDoubted(finding) ? `${text} (with care)` : text;
}

/** 'below 9.45 Hz, above 108 Hz': where a response has fallen by some dB, at its low and its high end. */
export function pointText(point?: { lowHz: number | null; highHz: number | null }): string | null {
  if (!point) return null;
  const { lowHz, highHz } = point;
  if (lowHz === null && highHz === null) return 'not inside the curve';
  const low = lowHz === null ? 'not at the low end' : `below ${formatHz(lowHz)}`;
  return highHz === null ? low : `${low}, above ${formatHz(highHz)}`;
}

export function ceilingText({ ladder }: SettingView, hz: number): string | null {
  const band = ladder?.bandsHz.findIndex((centre) => nominalHz(centre) === hz) ?? -1;
  const level = band < 0 ? null : (ladder?.ceiling.levelDb[band] ?? null);
  if (level === null) return null;
  return `${ladder?.ceiling.reached[band] ? '' : 'at least '}${formatDb(level)}`;
}

export function onsetText({ ladder }: SettingView, amount: number): string | null {
  if (!ladder || ladder.rungs.length < 2) return null;
  const first = firstOnsets(ladder).find((one) => one.compressionDb === amount);
  return first ? `${formatDrive(first.driveDb)}, at ${formatHz(first.hz)}` : 'not reached';
}

export function limitText({ ladder }: SettingView): string | null {
  if (!ladder || ladder.rungs.length < 3) return null;
  if (ladder.regions.length === 0) return 'nowhere';
  return ladder.regions
    .map(
      (one) =>
        `${formatHzRange(one.lowHz, one.highHz)} from ${formatDrive(one.onsetDriveDb)} (${one.kind === 'limiter' ? 'sharply' : 'gradually'})`,
    )
    .join('; ');
}
