import { type Caveat, inFile } from '../model/caveat';
import type { Curve } from '../model/curve';
import { makeCurve } from '../model/makeCurve';
import type { TextImport } from '../model/step';
import { makeCaveat } from '../words/makeCaveat';
import { makeRefusal } from '../words/makeRefusal';
import { asNumbered } from '../words/numbered';
import { decodeText } from './decodeText';
import { labelOf } from './filePath';
import { type Layout, layOut } from './layOut';
import { LineNotes } from './lineNotes';
import { readOwnHeader } from './ownText';
import { readFileName } from './readFileName';
import { readRows } from './readRows';
import { type CheckedTextOptions, checkTextOptions, type TextOptions } from './textOptions';
import { tidyRows } from './tidyRows';
import { chooseUnits, type Units } from './units';

/**
 * Read a curve from delimited text.
 *
 * @param source the text, or its bytes. @param options what is known; the rest is found out.
 * @returns the curve, and a note for every guess made and everything dropped or repaired, with its file (the curve's
 * label) and lines: a remark where it is certain, a doubt where it may be wrong.
 * @throws BassloomError `empty`, `binary`, `html`, `no-lines`, `header-only`, `nothing-numeric`, `one-column`,
 * `no-level-column`, `too-few-points`, `too-many-points`, `too-many-lines`, `too-large`, `level-out-of-range`,
 * `thousands-separators`, `ambiguous-decimal`, `several-curves`, `column-not-found`, `bad-source`, and for the options
 * `bad-option`, `unknown-encoding`, `contradictory-options`, `bad-pattern`.
 *
 * Delimiter (comma, semicolon, tab, blanks) and decimal sign are those under which most of some 100 lines
 * from all over the text read as rows of numbers. Lines that are no rows are text wherever they stand; the heading is
 * the one just above the data that has as many cells and names a frequency. Without one, the frequency is the column
 * that rises, the level the next that is left, the phase the one after it. Where another reading would fit as well, a
 * doubt names it, or the text is refused. Two things nobody can know from a text: frequencies in kHz and levels in Pa
 * where nothing says so. A quoted cell ends on its line. Time and memory grow linearly with the text.
 *
 * @example
 * const { curve, notes } = importText('Freq (Hz);SPL (dB)\n20;80,5\n25;82,1\n', { name: 'unit_flat_step-3.txt' });
 */
export function importText(source: string | Uint8Array, options: TextOptions = {}): { curve: Curve; notes: Caveat[] } {
  const checked = checkTextOptions(options);
  const notes: Caveat[] = [];
  const text = decodeText(source, checked.called, checked.encoding, notes);
  const own = readOwnHeader(text);
  const layout = layOut(text, checked, own, notes);
  const units = chooseUnits(layout.heading, layout, checked, own?.scale ?? layout.scale, notes);
  const lineNotes = new LineNotes();
  for (const line of layout.rowsAbove) lineNotes.add('above-heading', line);
  const { rows, decimal, decimalLine } = readRows(
    layout.text,
    {
      ...layout,
      ...units,
      maxPoints: checked.maxPoints,
      called: checked.called,
    },
    lineNotes,
  );
  if (decimal !== layout.dialect.decimal)
    notes.push(makeCaveat('decimal-comma-late', 'remark', {}, { lines: [decimalLine] }));
  notes.push(...lineNotes.caveats(rows.lines.length));
  const tidy = tidyRows(rows, notes);
  if (tidy.frequencyHz.length < 2) refuseTooFew(tidy.frequencyHz.length, checked, lineNotes.caveats(rows.lines.length));
  noteLowFrequencies(tidy.frequencyHz, units, notes);
  const fromName = nameSays(checked, notes);
  const curve = makeCurve({
    frequencyHz: tidy.frequencyHz,
    levelDb: tidy.levelDb,
    phaseDeg: tidy.phaseDeg,
    noiseDb: tidy.noiseDb,
    role: checked.role ?? own?.role ?? 'response',
    scale: units.scale,
    label: checked.name === undefined ? own?.label : labelOf(checked.name),
    about: { ...own?.about, ...fromName },
    steps: [{ did: 'import', with: { ...settingsUsed(checked, layout, units), decimal } }],
  });
  return { curve, notes: inFile(curve.label, notes) };
}

function noteLowFrequencies(frequencyHz: number[], units: Units, notes: Caveat[]): void {
  const [fromHz, toHz] = [frequencyHz[0], frequencyHz[frequencyHz.length - 1]];
  if (units.frequencyUnitKnown || fromHz >= 1 || toHz > 25) return;
  notes.push(makeCaveat('frequency-unit-unsure', 'doubt', { fromHz, toHz }));
}

function nameSays(options: CheckedTextOptions, notes: Caveat[]): Curve['about'] {
  if (options.name === undefined || options.namePattern === undefined) return {};
  const said = readFileName(options.name, options.namePattern, options.stepDb);
  notes.push(...said.notes);
  return said.about;
}

function settingsUsed(options: CheckedTextOptions, layout: Layout, units: Units): Omit<TextImport, 'decimal'> {
  const { dialect, columns } = layout;
  const numbered = Object.entries(columns).map(([kind, column]) => [kind, (column as number) + 1]);
  return {
    ...(options.name !== undefined && { name: options.called }),
    delimiter: dialect.delimiter,
    columns: Object.fromEntries(numbered),
    frequencyUnit: units.frequencyUnit,
    levelUnit: units.levelUnit,
  };
}

function refuseTooFew(count: number, options: CheckedTextOptions, dropped: Caveat[]): never {
  const told = dropped.filter(({ code }) => code === 'rows-dropped').slice(0, 3);
  const listed = asNumbered({
    ...Object.fromEntries(['why', 'count', 'of'].map((name) => [name, told.map(({ values }) => values[name])])),
    line: told.map(({ where }) => where?.lines?.[0] ?? null),
  });
  throw makeRefusal('too-few-points', { label: options.called, points: count, ...listed });
}
