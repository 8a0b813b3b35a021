import { withConclusions } from '../analysis/conclusions/conclude';
import type { Curve, Measurement } from '../model/curve';
import type { Findings } from '../model/findings';
import { attachNoiseRuns } from '../response/attachNoiseRuns';
import { NARROW, WIDE } from './charts/layout';
import { renderSvg } from './charts/renderSvg';
import { figuresOf } from './figures/figures';
import type { CarriedFile } from './html/dataSection';
import type { DrawnFigure } from './html/figureHtml';
import { page } from './html/page';
import { sortSession } from './session';
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
import { textOf } from './verdict/sentence';
import { writeVerdict } from './verdict/writeVerdict';

export interface ReportInput {
  /** Name of the unit under test. */
  topic: string;
  measurements: Measurement[];
  findings: Findings;
  /** The fixed way of measuring; field names carry their units and are read out. */
  procedure?: object;
  /** The room; field names carry their units and are read out. */
  room?: object;
  /** Heading of the page; the topic where left out. */
  title?: string;
  /** When the report was written, as it is to be printed; left out where not given, so that equal input gives equal bytes. */
  generatedAt?: string;
}

export interface Report {
  /** One self-contained page. */
  html: string;
  /** The findings as they came in. */
  findingsJson: string;
  /** One table an analysis, and the curves. */
  tables: CsvTable[];
  /** The sentences of the verdict as plain text. */
  verdict: string[];
}

/**
 * Write a report from findings and the measurements they were read from.
 *
 * Nothing is computed but pictures: every number comes from the findings, every fact from the measurements' own
 * `about` and `steps`. Equal input gives equal bytes.
 *
 * @param input unit, measurements (recordings are named, not drawn or carried), findings; see {@link ReportInput}.
 * @returns the page, the findings as JSON, tables as delimited text, and the verdict's sentences.
 *
 * Notes: a report of 22 curves takes under a second, a good part of it to load the chart library the first time.
 *
 * @example
 * const { html, verdict } = buildReport({ topic: 'Unit A', measurements: [curve], findings: { bandFit: [fitBand(curve)] } });
 */
export function buildReport(input: ReportInput): Report {
  const findings = withConclusions(input.measurements, input.findings);
  const session = sortSession(input.topic, attachNoiseRuns(input.measurements), findings);
  const figures = figuresOf(session);
  const has = new Set(figures.map((figure) => figure.id));
  const sentences = writeVerdict(session, (kind, index) => {
    const related = (INSTEAD[kind] ?? ['ladder', 'map']).map((other) => `fig-${other}-${index}`);
    return [`fig-${kind}-${index}`, `fig-${kind}`, ...related].find((one) => has.has(one)) ?? 'method';
  });
  const drawn = figures.map((figure, k): DrawnFigure => {
    const words = { title: figure.title, text: figure.text };
    return {
      figure,
      number: k + 1,
      wideSvg: renderSvg(figure.build, WIDE, `${figure.id}-w`, words),
      narrowSvg: renderSvg(figure.build, NARROW, `${figure.id}-n`, words),
    };
  });
  const findingsJson = jsonOf(findings);
  const tables = [
    ...curveTables([...session.responses, ...session.noise, ...session.corrections]),
    ...harmonicTables(session.harmonics),
    ...findingTables(findings),
  ];
  const carried = carriedFiles(tables, session.harmonics);
  const html = page({
    session,
    title: input.title ? plainName(input.title) : session.topic || 'Unnamed unit',
    generatedAt: input.generatedAt,
    sentences,
    figures: drawn,
    curvesLeftOut: session.responses.length > 0 && !tables.some(({ name }) => name === CURVES_FILE),
    harmonicsLeftOut: session.harmonics.length > 0 && !carried.some(({ name }) => name === HARMONICS_FILE),
    notes: { procedure: input.procedure, room: input.room },
    files: [{ name: 'findings.json', type: 'application/json', text: findingsJson, what: 'all findings' }, ...carried],
  });
  return { html, findingsJson, tables, verdict: sentences.map(textOf) };
}

/** The tables as the page carries them: curves of harmonics thinned, as they would be a quarter of its size. */
function carriedFiles(tables: CsvTable[], harmonics: Curve[]): CarriedFile[] {
  const whole = tables.find(({ name }) => name === HARMONICS_FILE)?.csv;
  const thin = harmonicTables(harmonics.map(thinCurve)).filter(({ name }) => name === HARMONICS_FILE);
  const others = tables.filter(({ name }) => name !== HARMONICS_FILE);
  // beside the list of their runs
  const at = others.findIndex(({ name }) => name === HARMONIC_RUNS_FILE) + 1;
  return [...others.slice(0, at), ...thin, ...others.slice(at)].map(({ name, csv }) => ({
    name,
    type: 'text/csv',
    text: csv,
    what: name === HARMONICS_FILE && csv !== whole ? `table, thinned to ${CARRIED_POINTS} points an octave` : 'table',
  }));
}

/** Figures that a sentence may rest on where its own is missing; ladder and map for those not named here. */
const INSTEAD: Record<string, string[]> = { distortion: ['harmonics', 'clean'], output: [] };

/** JSON with an entry a line, but rows of numbers kept on one. */
function jsonOf(findings: Findings): string {
  const text = JSON.stringify(findings, null, 1);
  return `${text.replace(/\[\n[^[\]{}]*\]/g, (row) => row.replace(/\n\s*/g, ' '))}\n`;
}
