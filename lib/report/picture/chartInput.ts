import type { Measurement } from '../../model/curve';
import type { Findings } from '../../model/findings';
import type { FigureKind } from '../figures/figureKind';

export interface ChartInput {
  measurements?: Measurement[];
  findings?: Findings;
  /** Which finding is drawn; without it the first that can be, and the curves alone where none can. */
  kind?: keyof Findings;
  /** Which of the pictures of a finding; without it the first that can be drawn. */
  view?: FigureKind;
  /** Of several settings the one that is drawn; without it the first, or all where the picture has room for all. */
  setting?: string;
}
