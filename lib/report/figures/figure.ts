import type { ChartBuilder } from '../charts/renderSvg';
import type { DataTable } from '../html/dataTable';
import type { FigureKind } from './figureKind';

/** One figure of the report before it is drawn. */
export interface Figure {
  /** Unique on the page; what sentences link to. */
  id: string;
  kind: FigureKind;
  title: string;
  /** What there is to see, in plain words, below the figure. */
  caption: string;
  /** Text alternative: the essential numbers for those who do not see it. */
  text: string;
  build: ChartBuilder;
  table: DataTable;
}
