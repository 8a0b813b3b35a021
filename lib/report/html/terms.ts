import type { MaximumOutput } from '../../model/findings';
import type { ReportWords } from '../../words/reportWords';
import type { Session } from '../session';
import { escapeHtml } from '../text';

/** The words of the findings, and how their numbers come about; empty where there are none. */
export function termsSection({ findings, captures, harmonics, words }: Session): string {
  const { termList } = words.page;
  const { bandFit = [], ladder = [], settingDifference = [], distortion = [], maximumOutput = [] } = findings;
  const terms: [term: string, text: string][] = [];
  if (bandFit.length > 0) terms.push([termList.window, termList.windowText]);
  if (ladder.length > 0) terms.push([termList.compression, termList.compressionText]);
  if (settingDifference.some(({ hingeHz }) => hingeHz !== null)) terms.push([termList.hinge, termList.hingeText]);
  if (distortion.length > 0 || harmonics.length > 0) {
    const most = Math.max(2, ...distortion.map(({ thdToOrder }) => thdToOrder));
    terms.push([termList.harmonics, termList.harmonicsText], [termList.thd, termList.thdText(most)]);
  }
  if (maximumOutput.length > 0) terms.push([termList.output, termList.outputText(limitsOf(maximumOutput, words))]);
  if (captures.length > 0) terms.push([termList.snr, termList.snrText]);
  if (terms.length === 0) return '';
  const items = terms.map(([term, text]) => `<dt>${escapeHtml(term)}</dt><dd>${escapeHtml(text)}</dd>`);
  return `<dl class="topics">${items.join('\n')}</dl>`;
}

function limitsOf(outputs: MaximumOutput[], { page }: ReportWords): string[] {
  const texts = outputs.map(({ limits }) =>
    page.termList.limits(
      limits.map(({ fromOrder, toOrder, limitDb }) => page.termList.limit(fromOrder, toOrder, limitDb)),
    ),
  );
  return [...new Set(texts)];
}
