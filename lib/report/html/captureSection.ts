import type { CaptureView } from '../../analysis/conclusions/captureViews';
import type { CaptureQuality } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import type { ReportWords } from '../../words/reportWords';
import type { Session } from '../session';
import { plainName, proseHtml } from '../text';
import { dataTable, type TableCell } from './dataTable';
import { behind, runName } from './doubts';
import { gatherCaveats } from './gatherCaveats';

type Column = [head: string, cell: (quality: CaptureQuality) => TableCell];

/** Whether each capture can be trusted, and what to do where it cannot; empty where none is known of. */
export function captureSection(session: Session): string {
  const { captures, words } = session;
  if (captures.length === 0) return '';
  const { captureTable } = words.page;
  const judged = captures.flatMap(({ quality }) => quality ?? []);
  // A column that is empty in every row says nothing.
  const columns = columnsOf(words).filter(([, cell]) => judged.some((quality) => cell(quality) !== null));
  const table = dataTable(
    {
      caption: captureTable.caption,
      head: [...captureTable.head, ...columns.map(([head]) => head)],
      rows: captures.map((one) => [
        captureName(session, one),
        captureTable.verdicts[one.verdict],
        ...columns.map(([, cell]) => (one.quality && cell(one.quality)) ?? '–'),
      ]),
    },
    words,
  );
  return [warningList(session), `<div class="captures">${table}</div>`].filter(Boolean).join('\n');
}

/** A capture is named as its run is; by its label where no run was made of it. */
function captureName(session: Session, { label, about }: CaptureView): string {
  const isRun = about.driveDb !== undefined && session.responses.some((curve) => curve.about.driveDb === about.driveDb);
  const sharing = session.captures.filter(
    (one) => one.about.driveDb === about.driveDb && one.about.setting === about.setting,
  );
  return isRun && sharing.length === 1 ? runName(session, { label, about }) : label || session.words.page.notNamed;
}

function columnsOf({ page }: ReportWords): Column[] {
  const { captureTable: words } = page;
  const { columns } = words;
  return [
    [columns.peak, ({ peakDbfs }) => (Number.isFinite(peakDbfs) ? peakDbfs : null)],
    [
      columns.clipped,
      ({ clippedSamples, clippedAtS }) =>
        clippedSamples === 0 ? words.none : words.clipped(clippedSamples, clippedAtS),
    ],
    [columns.hum, ({ humHz }) => humText(humHz, words)],
    [columns.snr, ({ snrDb }) => lowestSnr(snrDb, words)],
    [columns.caught, ({ missedBelowHz, truncatedAtHz }) => words.caught(missedBelowHz, truncatedAtHz) || words.whole],
    [
      columns.clock,
      ({ clockPpm, clockUncertaintyPpm }) => (clockPpm === null ? null : words.clock(clockPpm, clockUncertaintyPpm)),
    ],
    [columns.rates, ({ ratesHz }) => (ratesHz ? words.rates(ratesHz.capture, ratesHz.stimulus) : null)],
    [
      columns.repeat,
      ({ repeatability: one }) => (one ? words.repeat(one.worstDb, nominalHz(one.atHz), one.medianDb) : null),
    ],
  ];
}

type Words = ReportWords['page']['captureTable'];

/** The strongest line, and how many others; the file holds all. */
function humText(lines: CaptureQuality['humHz'], words: Words): string {
  if (lines.length === 0) return words.none;
  const { frequencyHz, levelDb } = lines.reduce((a, b) => (b.levelDb > a.levelDb ? b : a));
  return words.hum(frequencyHz, levelDb, lines.length - 1);
}

function lowestSnr({ frequencyHz, db }: CaptureQuality['snrDb'], words: Words): string | null {
  const least = db.indexOf(Math.min(...db.filter(Number.isFinite)));
  return least < 0 ? null : words.snr(db[least], nominalHz(frequencyHz[least]));
}

/** Each warning once, with the captures it holds for; those of bad captures first. */
function warningList(session: Session): string {
  const { captures, words } = session;
  const { captureTable } = words.page;
  const items = (['bad', 'doubtful', 'good'] as const).flatMap((verdict) =>
    gatherCaveats(
      captures
        .filter((capture) => capture.verdict === verdict)
        .flatMap((capture) => capture.warnings.map((caveat) => ({ caveat, name: captureName(session, capture) }))),
    ).map((group) => {
      const of = behind(group, words);
      return `<li>${verdict === 'bad' ? `<strong>${captureTable.verdicts.bad}.</strong> ` : ''}${proseHtml(plainName(group.caveat.message))}${of ? ` <span class="quiet">(${proseHtml(of)})</span>` : ''}</li>`;
    }),
  );
  return items.length === 0 ? '' : `<h3>${captureTable.amiss}</h3>\n<ul>${items.join('\n')}</ul>`;
}
