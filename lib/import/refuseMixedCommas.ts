import type { Caveat } from '../model/caveat';
import { makeCaveat } from '../words/makeCaveat';
import { makeRefusal } from '../words/makeRefusal';

/**
 * Refuse rows in which commas seem to do two jobs at once, so that no reading of them is safe.
 * Only for a delimiter that was found out; who says the comma separates the columns is believed.
 *
 * @param rows sampled rows, split at commas. @param headings how many headings stand above them.
 * @param line of the first row, for the message.
 * @throws BassloomError `thousands-separators`, `ambiguous-decimal`.
 * @returns a doubt for the notes where a third column of whole numbers is all that speaks for decimals.
 *
 * Thousands: rows of one cell more than the others all begin with groups of digits ('1,250.5,80').
 * Decimals ('20,5,80,1' or '20,80,1'): nowhere a decimal point, every cell a whole number, and either more
 * cells than headings, rows of different length, digits of decimals at the end, or a first column that
 * rises only when joined with the second.
 */
export function refuseMixedCommas(
  rows: string[][],
  headings: number | undefined,
  called: string,
  line: number,
): Caveat | undefined {
  let cells = rows.map((row) =>
    row.map((cell) => cell.trim()).filter((cell, i, all) => cell !== '' || i < all.length - 1),
  );
  const widths = cells.map((row) => row.length);
  const widest = widths.reduce((a, b) => Math.max(a, b), 0);
  const narrowest = widths.reduce((a, b) => Math.min(a, b), widest);
  if (widest < 3 || rows.length < 2) return undefined;
  if (groupsThousands(cells, narrowest, widest)) {
    throw makeRefusal('thousands-separators', { label: called }, { line });
  }
  // a row without a number, or with words, tells nothing, and must not hide what the others tell
  cells = cells.filter((row) => row.every((cell) => /^[+-]?\d[\d.+\-eE]*$/.test(cell)));
  if (cells.length < 2) return undefined;
  if (!cells.every((row) => row.every((cell) => /^[+-]?\d+$/.test(cell)))) return undefined;
  if (headings === widest) return undefined;
  const certain =
    (headings !== undefined && headings < widest) ||
    otherWidths(widths) > 0.1 * rows.length ||
    endsLikeDecimals(cells) ||
    (widest === 4 && risesOnlyJoined(cells)) ||
    rows.every((row) => row.slice(1).some((cell) => /^\s/.test(cell)) && row.slice(1).some((cell) => /^\d/.test(cell)));
  if (certain) {
    throw makeRefusal('ambiguous-decimal', { label: called }, { line });
  }
  return makeCaveat('decimals-unsure', 'doubt', {});
}

function groupsThousands(cells: string[][], narrowest: number, widest: number): boolean {
  if (widest !== narrowest + 1) return false;
  const wide = cells.filter((row) => row.length === widest);
  const narrow = cells.filter((row) => row.length === narrowest);
  return (
    wide.every((row) => /^[1-9]\d{0,2}$/.test(row[0]) && /^\d{3}(?:\.\d*)?$/.test(row[1])) &&
    narrow.every((row) => Number(row[0]) < 1000)
  );
}

/** Digits of decimals: never signed, all of one length, and either with leading zeros or of every kind. */
function endsLikeDecimals(cells: string[][]): boolean {
  const last = cells.map((row) => row[row.length - 1]);
  if (!last.every((cell) => /^\d+$/.test(cell) && cell.length === last[0].length)) return false;
  const hasLeadingZero = last[0].length > 1 && last.some((cell) => cell.startsWith('0'));
  return hasLeadingZero || (last[0].length === 1 && last.length >= 8 && new Set(last).size >= 5);
}

function risesOnlyJoined(cells: string[][]): boolean {
  const rises = (values: number[]) => values.every((value, i) => i === 0 || value > values[i - 1]);
  return !rises(cells.map((row) => Number(row[0]))) && rises(cells.map((row) => Number(`${row[0]}.${row[1]}`)));
}

/** How many rows have another width than the most frequent one. */
function otherWidths(widths: number[]): number {
  const counts = new Map<number, number>();
  for (const width of widths) counts.set(width, (counts.get(width) ?? 0) + 1);
  return widths.length - [...counts.values()].reduce((a, b) => Math.max(a, b));
}
