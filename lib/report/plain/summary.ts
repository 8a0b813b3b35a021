import { type Glance, glanceOf } from '../glance/glanceOf';
import { behind, doubtsOf } from '../html/doubts';
import type { MethodNotes } from '../html/factTable';
import { measuredLine } from '../measuredLine';
import type { Session } from '../session';
import { plainName } from '../text';

/** What a report comes to, as plain text, for whatever cannot show a page. */
export interface Summary {
  title: string;
  /** Date, and what was measured. */
  lines: string[];
  /** Analyses that are missing. */
  warnings: string[];
  /** Each with what speaks against it. */
  headlines: { text: string; doubt?: string }[];
  glance: Glance;
  /** What is not to be used, and what is to be taken with care. */
  doubts: string[];
  credit: string;
}

export interface SummaryParts {
  session: Session;
  title: string;
  generatedAt?: string;
  notes: MethodNotes;
  credit?: string;
}

export function summaryOf({ session, title, generatedAt, notes, credit = '' }: SummaryParts): Summary {
  const { findings, responses, recordings, words } = session;
  const headlines = findings.conclusions?.headlines ?? [];
  const missing = (findings.notes ?? []).filter(({ code }) => code === 'analysis-missing');
  return {
    title,
    lines: [...(generatedAt ? [plainName(generatedAt)] : []), measuredLine(session, notes)],
    warnings: missing.map(({ message }) => plainName(message)),
    headlines:
      headlines.length > 0
        ? headlines.map(({ text, doubt }) => ({ text: plainName(text), ...(doubt && { doubt: plainName(doubt) }) }))
        : [{ text: words.page.noAnalysis(responses.length, recordings.length) }],
    glance: glanceOf(session),
    doubts: doubtsOf(session)
      .groups.filter(({ caveat }) => caveat.severity !== 'remark' && caveat.code !== 'analysis-missing')
      .map((one) => {
        const of = behind(one, words);
        return `${plainName(one.caveat.message)}${of ? ` (${of})` : ''}`;
      }),
    credit: plainName(credit),
  };
}
