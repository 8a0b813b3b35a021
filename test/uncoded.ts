import type { Caveat, Severity } from '../lib/model/caveat';

/** A caveat that only this test knows, as one of a later version would be: it is told in its own words. */
export function uncoded(message: string, severity: Severity = 'doubt'): Caveat {
  return { code: `test: ${message}`, severity, values: {}, message };
}
