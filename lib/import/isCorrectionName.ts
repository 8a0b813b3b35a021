import { bareName } from './filePath';

/**
 * Whether a file of text is called like the correction of a microphone: its name, path aside, begins with 'correction' or
 * 'calibration', or has 'mic' or 'microphone' with one of these (or 'cal') behind it, in any case.
 *
 * @example
 * isCorrectionName('mic cal 0deg.txt') // true
 * isCorrectionName('corrections/unit A_flat.txt') // false
 */
export function isCorrectionName(path: string): boolean {
  const name = bareName(path);
  return /^(correction|calibration)([\s_.,-]|\d|$)|(^|[\s_.,-])mic(rophone)?[\s_.-]*(corr(ection)?|cal(ibration)?)([\s_.,-]|\d|$)/i.test(
    name,
  );
}
