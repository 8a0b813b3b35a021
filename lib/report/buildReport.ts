import { composeReport } from './composeReport';
import type { Report, ReportInput } from './reportInput';

export type { Report, ReportInput } from './reportInput';

/**
 * Write a report from findings and the measurements they were read from.
 *
 * Nothing is computed but pictures: every number comes from the findings, every fact from the measurements' own
 * `about` and `steps`. Equal input gives equal bytes.
 *
 * @param input unit, measurements (recordings are named, not drawn or carried), findings; see {@link ReportInput}.
 * @returns the page, the findings as JSON, tables as delimited text, headlines and all sentences of the verdict.
 *
 * Notes: a report of 22 curves takes under a second, a good part of it to load the chart library the first time.
 *
 * @example
 * const { html, verdict } = buildReport({ topic: 'Unit A', measurements: [curve], findings: { bandFit: [fitBand(curve)] } });
 */
export function buildReport(input: ReportInput): Report {
  return composeReport(input).report;
}
