import type { Curve } from '../../model/curve';

/** What one capture gave: the response and its harmonics. Runs that nothing tells apart are one take. */
export interface Take {
  responses: Curve[];
  /** By order. */
  harmonics: Map<number, Curve[]>;
}
