import type { Caveat } from '../caveat';
import type { About } from '../curve';

/** What every finding carries besides its numbers. */
export interface Qualified {
  /** Why the numbers must not be taken at face value; empty where nothing speaks against them. */
  caveats: Caveat[];
}

/** Which curve a finding was read from. */
export interface OfCurve {
  /** Id of the curve. */
  curve: string;
  label: string;
  about: About;
}
