import { csvRows } from '../model/csv';
import type { Curve } from '../model/curve';
import { ownHeaderLines } from './ownText';

/**
 * Write a curve as delimited text: comment lines with what it is, a line of headings with units, then the
 * columns, comma-delimited, in the fewest digits that read back as the same numbers.
 *
 * @param curve any curve.
 * @returns text with LF line ends. `importText` reads it back with the same columns, hence the same id, and the
 * same label, role, scale and `about` (levels outside -300..300 dB and single points it refuses). What was
 * done to the numbers (`steps`) is not written. Labels cannot become formulas in a spreadsheet: they stay
 * in one cell that begins with #.
 *
 * @example
 * writeText(makeCurve({ frequencyHz: [20, 40], levelDb: [80, 86.5], scale: 'spl', label: 'unit A' }))
 * // # Bassloom curve
 * // # label: "unit A"
 * // # role: "response"
 * // # scale: "spl"
 * // frequency (Hz),level (dB SPL)
 * // 20,80
 * // 40,86.5
 */
export function writeText(curve: Curve): string {
  const level = curve.scale === 'spl' ? 'dB SPL' : 'dB';
  const columns: [string, number[]][] = [
    ['frequency (Hz)', curve.frequencyHz],
    [`level (${level})`, curve.levelDb],
  ];
  if (curve.phaseDeg) columns.push(['phase (deg)', curve.phaseDeg]);
  if (curve.noiseDb) columns.push([`noise (${level})`, curve.noiseDb]);
  const rows = curve.frequencyHz.map((_, i) => columns.map(([, column]) => column[i]));
  const table = csvRows([columns.map(([heading]) => heading), ...rows]);
  return `${ownHeaderLines(curve).join('\n')}\n${table.replaceAll('\r\n', '\n')}`;
}
