import type { Caveat, Severity } from '../lib/model/caveat';

/** A caveat of a code that the catalogue does not know, as one of a later version would be: its own message is shown. */
export function said(text: string, severity: Severity = 'doubt'): Caveat {
  return { code: 'of-a-later-version', severity, values: { text }, message: text };
}
