import { withConclusions } from '../analysis/conclusions/conclude';
import type { Caveat } from '../model/caveat';
import type { Findings } from '../model/findings';
import { attachNoiseRuns } from '../response/attachNoiseRuns';
import { makeCaveat } from '../words/makeCaveat';
import { type ReportWords, reportWords } from '../words/reportWords';
import { layouts } from './charts/layout';
import { renderSvg } from './charts/renderSvg';
import type { Figure } from './figures/figure';
import { figuresOf } from './figures/figures';
import { fitFigures, thinForFigures } from './fitPage';
import type { CarriedFile } from './html/dataSection';
import type { DrawnFigure } from './html/figureHtml';
import { page } from './html/page';
import type { Report, ReportInput } from './reportInput';
import { type Session, sortSession } from './session';
import {
  CARRIED_POINTS,
  CURVES_FILE,
  curveTables,
  HARMONIC_RUNS_FILE,
  HARMONICS_FILE,
  harmonicTables,
  thinCurve,
} from './tables/curveTables';
import { type CsvTable, findingTables } from './tables/findingTables';
import { plainName } from './text';

/** A report, and what it was written from, for those who write it in another form. */
export interface Composed {
  report: Report;
  session: Session;
  title: string;
  /** In the order of the page. */
  figures: Figure[];
}

export function composeReport(input: ReportInput): Composed {
  const words = reportWords(input.locale);
  const session = sortSession(
    input.topic,
    attachNoiseRuns(input.measurements, () => {}),
    withConclusions(input.measurements, input.findings),
    words,
  );
  const { drawn, notes: thinned } = thinForFigures(session);
  const { first, main, more } = figuresOf(drawn);
  const size = layouts(words);
  const order = [...(first ? [first] : []), ...main, ...more];
  const draw = (figure: Figure): DrawnFigure => ({
    figure: { ...figure, caption: captionIn(order, figure, words) },
    number: order.indexOf(figure) + 1,
    wideSvg: renderSvg(figure.build, size.wide, `${figure.id}-w`, figure),
    narrowSvg: renderSvg(figure.build, size.narrow, `${figure.id}-n`, figure),
  });
  const findingsJson = jsonOf(session.findings);
  const tables = [
    ...curveTables([...session.responses, ...session.noise, ...session.corrections]),
    ...harmonicTables(session.harmonics),
    ...findingTables(session.findings),
  ];
  const drawings = order.map(draw);
  const { kept, notes: leftFigures } = fitFigures(drawings);
  const drawingsOf = (figures: Figure[]) => drawings.slice(order.indexOf(figures[0])).slice(0, figures.length);
  const shownOf = (figures: Figure[]) => (figures.length > 0 ? drawingsOf(figures).filter((one) => kept.has(one)) : []);
  const { files, notes: leftFiles } = fitFiles([
    { name: 'findings.json', type: 'application/json', text: findingsJson, what: words.page.dataWords.findings },
    ...carriedFiles(tables, session, words),
  ]);
  const notes = [...(session.findings.notes ?? []), ...thinned, ...leftFigures, ...leftFiles];
  const title = input.title ? plainName(input.title) : session.topic || words.page.unnamed;
  const html = page({
    session: { ...session, findings: { ...session.findings, ...(notes.length > 0 && { notes }) } },
    title,
    generatedAt: input.generatedAt,
    figures: { first: first && shownOf([first])[0], main: shownOf(main), more: shownOf(more) },
    curvesLeftOut: session.responses.length > 0 && !files.some(({ name }) => name === CURVES_FILE),
    harmonicsLeftOut: session.harmonics.length > 0 && !files.some(({ name }) => name === HARMONICS_FILE),
    notes: { procedure: input.procedure, room: input.room },
    files,
  });
  const headlines = session.findings.conclusions?.headlines ?? [];
  const report = { html, findingsJson, tables, headlines, verdict: verdictOf(session) };
  return { report, session, title, figures: order };
}

/** What figures of several settings have in common is said below the first of them. */
function captionIn(order: Figure[], figure: Figure, words: ReportWords): string {
  const first = order.find(({ kind, caption }) => kind === figure.kind && caption === figure.caption) as Figure;
  return first === figure ? figure.caption : words.figure.asBefore(order.indexOf(first) + 1);
}

/** Headlines and what they leave out; where nothing was concluded, what the report holds. */
function verdictOf({ findings, responses, recordings, words }: Session): string[] {
  const { headlines, details } = findings.conclusions ?? { headlines: [], details: [] };
  const sentences = [...headlines, ...details].map(({ text }) => plainName(text));
  return sentences.length > 0 ? sentences : [words.page.noAnalysis(responses.length, recordings.length)];
}

/** The tables as the page carries them: curves of harmonics thinned, as they would be a quarter of its size. */
function carriedFiles(tables: CsvTable[], session: Session, { page: words }: ReportWords): CarriedFile[] {
  const { harmonics } = session;
  const whole = tables.find(({ name }) => name === HARMONICS_FILE)?.csv;
  const thin = harmonicTables(harmonics.map(thinCurve)).filter(({ name }) => name === HARMONICS_FILE);
  const others = tables.filter(({ name }) => name !== HARMONICS_FILE);
  // beside the list of their runs
  const at = others.findIndex(({ name }) => name === HARMONIC_RUNS_FILE) + 1;
  const carried = [...others.slice(0, at), ...thin, ...others.slice(at)].map(
    ({ name, csv }): CarriedFile => ({
      name,
      type: 'text/csv',
      text: csv,
      what: name === HARMONICS_FILE && csv !== whole ? words.dataWords.thinned(CARRIED_POINTS) : words.dataWords.table,
    }),
  );
  return carried.map((file) => (file.name === CURVES_FILE && file.text.length > MOST_WHOLE ? thinned(file) : file));

  function thinned(file: CarriedFile): CarriedFile {
    const curves = [...session.responses, ...session.noise, ...session.corrections].map(thinCurve);
    const csv = curveTables(curves).find(({ name }) => name === CURVES_FILE)?.csv ?? file.text;
    return { ...file, text: csv, what: words.dataWords.thinned(CARRIED_POINTS) };
  }
}

/** Letters of curves that the page holds at every point. */
const MOST_WHOLE = 1e6;
/** Letters of data in all that the page holds; as base64 they take a third more. */
const MOST_DATA = 1.6e6;

/** The files that the page holds, in their order as long as there is room: the largest go first. */
function fitFiles(files: CarriedFile[]): { files: CarriedFile[]; notes: Caveat[] } {
  const left = new Set<CarriedFile>();
  let size = files.reduce((sum, { text }) => sum + text.length, 0);
  for (const file of [...files].sort((a, b) => b.text.length - a.text.length)) {
    if (size <= MOST_DATA) break;
    left.add(file);
    size -= file.text.length;
  }
  const names = [...left].map(({ name }) => name).join(', ');
  return {
    files: files.filter((file) => !left.has(file)),
    notes: left.size > 0 ? [makeCaveat('page-tables-left', 'remark', { names })] : [],
  };
}

/** JSON with an entry a line, but rows of numbers kept on one; at its head the version of the shapes. */
function jsonOf(findings: Findings): string {
  const text = JSON.stringify({ schemaVersion: 2, ...findings }, null, 1);
  return `${text.replace(/\[\n[^[\]{}]*\]/g, (row) => row.replace(/\n\s*/g, ' '))}\n`;
}
