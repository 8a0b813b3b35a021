import type { About, Curve } from '../../model/curve';

/** What a line is of. */
export interface Named {
  label: string;
  about: About;
  role?: Curve['role'];
  order?: number;
}
