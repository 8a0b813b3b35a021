import type { CaptureQuality } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { BAD_MARK, type CaptureView } from '../captures';
import { formatCount, formatDb, formatHz, formatNumber, NO_BREAK } from '../format';
import type { Session } from '../session';
import { escapeHtml, plainSentence } from '../text';
import { dataTable, type TableCell } from './dataTable';
import { gatherNotes } from './gatherNotes';

type Column = [head: string, cell: (quality: CaptureQuality) => TableCell];

/** Whether each capture can be trusted, and what to do where it cannot; empty where none is known of. */
export function captureSection({ captures }: Session): string {
  if (captures.length === 0) return '';
  const judged = captures.flatMap(({ quality }) => quality ?? []);
  // A column that is empty in every row says nothing.
  const columns = COLUMNS.filter(([, cell]) => judged.some((quality) => cell(quality) !== null));
  const table = dataTable({
    caption: 'Captures, and whether they can be trusted',
    head: ['Capture', 'Verdict', ...columns.map(([head]) => head)],
    rows: captures.map(({ label, verdict, quality }) => [
      label || 'not named',
      verdict === 'bad' ? `${BAD_MARK}${NO_BREAK}bad` : verdict,
      ...columns.map(([, cell]) => (quality && cell(quality)) ?? '–'),
    ]),
  });
  return [`<div class="captures">${table}</div>`, warningList(captures)].filter(Boolean).join('\n');
}

const COLUMNS: Column[] = [
  ['Peak in dBFS', ({ peakDbfs }) => (Number.isFinite(peakDbfs) ? peakDbfs : null)],
  ['Clipped samples', clippingText],
  ['Mains hum', ({ humHz }) => humText(humHz)],
  ['Lowest signal-to-noise', ({ snrDb }) => lowestSnr(snrDb)],
  ['Sweep caught', caughtText],
  ["Recorder's clock in ppm", clockText],
  ['Sample rates', ({ ratesHz }) => (ratesHz ? `${ratesHz.capture} of ${ratesHz.stimulus}${NO_BREAK}Hz` : null)],
  ['Against another take', repeatText],
];

function clippingText({ clippedSamples, clippedAtS }: CaptureQuality): TableCell {
  if (clippedSamples === 0) return 'none';
  return clippedAtS === null
    ? `${clippedSamples}`
    : `${clippedSamples}, from ${formatNumber(clippedAtS, 2)}${NO_BREAK}s`;
}

/** The strongest line, and how many others; the file holds all. */
function humText(lines: CaptureQuality['humHz']): string {
  if (lines.length === 0) return 'none';
  const { frequencyHz, levelDb } = lines.reduce((a, b) => (b.levelDb > a.levelDb ? b : a));
  const more = lines.length > 1 ? ` and ${lines.length - 1}${NO_BREAK}more` : '';
  return `${formatHz(frequencyHz)} at ${formatDb(levelDb, 0)}${more}`;
}

function lowestSnr({ frequencyHz, db }: CaptureQuality['snrDb']): string | null {
  const least = db.indexOf(Math.min(...db.filter(Number.isFinite)));
  return least < 0 ? null : `${formatDb(db[least], 0)} at ${formatHz(nominalHz(frequencyHz[least]))}`;
}

function caughtText({ missedBelowHz, truncatedAtHz }: CaptureQuality): string {
  const from = missedBelowHz === null ? '' : `from ${formatHz(missedBelowHz)}`;
  const to = truncatedAtHz === null ? '' : `up to ${formatHz(truncatedAtHz)}`;
  return [from, to].filter(Boolean).join(' ') || 'whole';
}

function clockText({ clockPpm, clockUncertaintyPpm }: CaptureQuality): string | null {
  if (clockPpm === null) return null;
  return `${formatNumber(clockPpm, 1)}${clockUncertaintyPpm === null ? '' : ` ± ${formatNumber(clockUncertaintyPpm, 1)}`}`;
}

function repeatText({ repeatability }: CaptureQuality): string | null {
  if (!repeatability) return null;
  const { worstDb, atHz, medianDb } = repeatability;
  return `${formatDb(worstDb)} at worst (${formatHz(nominalHz(atHz))}), median ${formatDb(medianDb, 2)}`;
}

/** Warnings, the bad captures first; the same warning of several captures once. */
function warningList(captures: CaptureView[]): string {
  const notes = (['bad', 'doubtful', 'good'] as const).flatMap((verdict) =>
    gatherNotes(
      captures
        .filter((capture) => capture.verdict === verdict)
        .flatMap(({ label, warnings }) => warnings.map(({ message }) => (label ? `${label}: ${message}` : message))),
      captures.map(({ label }) => label),
      'captures',
    ).map((text) => ({ verdict, text: plainSentence(text) })),
  );
  if (notes.length === 0) return '';
  const items = notes.map(
    ({ verdict, text }) =>
      `<li>${verdict === 'bad' ? `<strong>${BAD_MARK}${NO_BREAK}Bad.</strong> ` : ''}${escapeHtml(text)}</li>`,
  );
  const list = `<ul>${items.join('\n')}</ul>`;
  const folded = `<details class="open"><summary>${formatCount(notes.length, 'warning')}</summary>${list}</details>`;
  return `<h3>What is wrong with captures, and what to do</h3>\n${notes.length > 12 ? folded : list}`;
}
