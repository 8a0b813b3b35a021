import type { Measurement } from '../model/curve';
import type { Findings, Headline } from '../model/findings';
import type { CsvTable } from './tables/findingTables';

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
  /** Language of the page, such as 'en-GB'; English where it is not known. */
  locale?: string;
}

export interface Report {
  /** One self-contained page. */
  html: string;
  /** The findings, with what they come to. */
  findingsJson: string;
  /** One table an analysis, and the curves. */
  tables: CsvTable[];
  /** The facts that a reader takes home. */
  headlines: Headline[];
  /** The same and what they leave out, as plain sentences. */
  verdict: string[];
}
