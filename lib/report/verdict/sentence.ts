import type { Caveat } from '../../model/caveat';
import type { SettingView } from '../session';
import { plainSentence } from '../text';

/** A piece of a sentence; `key` pieces are the ones a reader looks for. */
export type Part = string | { key: string };

/** One sentence of the verdict with the figure it rests on. */
export interface Sentence {
  /** What it is about, in a word or two. */
  topic: string;
  parts: Part[];
  /** Id of a figure or section on the page. */
  figure?: string;
  /** Something that puts other sentences in doubt. */
  warning?: boolean;
}

/** The sentence as plain text. */
export function textOf(sentence: Sentence): string {
  return sentence.parts.map((part) => (typeof part === 'string' ? part : part.key)).join('');
}

/** 'With ‘name’, ' where a setting has a name, for the start of a sentence that goes on in lower case. */
export function inSetting(view: SettingView): string {
  return view.name ? `With ‘${view.name}’, ` : '';
}

/** First letter as at the start of a sentence. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A sentence's parts with the setting in front and a capital at the start. */
export function about(view: SettingView, ...parts: Part[]): Part[] {
  const lead = inSetting(view);
  if (lead) return [lead, ...parts];
  const [first, ...rest] = parts;
  return [typeof first === 'string' ? capital(first) : first, ...rest];
}

/**
 * What speaks against a finding, to be put behind its sentence: the first thing that is its own; what is wrong with the
 * captures it rests on is told in a section of its own.
 */
export function cautionOf(finding: { caveats: Caveat[] }): string {
  const [own] = finding.caveats.filter(({ code }) => !/^captures?-not-good$/.test(code)).map(({ message }) => message);
  if (own !== undefined) return ` To be taken with care: ${ended(plainSentence(own))}`;
  const verdicts = finding.caveats.map(({ values }) => values.verdict);
  if (verdicts.length === 0) return '';
  const count = verdicts.length === 1 ? 'a capture that is' : `${verdicts.length} captures that are`;
  return ` To be taken with care: it rests on ${count} ${verdicts.includes('bad') ? 'bad' : 'doubtful'}${verdicts.includes('bad') && verdicts.includes('doubtful') ? ' or doubtful' : ''}; see captures.`;
}

/** With a full stop at its end. */
export function ended(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}
