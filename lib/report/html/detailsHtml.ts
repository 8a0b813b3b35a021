import type { Detail } from '../../model/findings';
import type { Session } from '../session';
import { escapeHtml, plainName, proseHtml } from '../text';
import type { DrawnFigure } from './figureHtml';

/** What headlines leave out, under what it is about, each with a link to the figure it rests on; empty where there is nothing. */
export function detailsHtml(
  { findings, words }: Session,
  figures: { first?: DrawnFigure; main: DrawnFigure[]; more: DrawnFigure[] },
): string {
  const details = findings.conclusions?.details ?? [];
  if (details.length === 0) return '';
  const drawn = [figures.first, ...figures.main, ...figures.more].filter((one) => one !== undefined);
  const sentence = ({ text, figure, warning }: Detail): string => {
    const at = drawn.find((one) => one.figure.id === figure);
    const link = at
      ? ` <a class="to" href="#${at.figure.id}">${words.page.figureLink}<span>${at.number}</span></a>`
      : '';
    return `<p${warning ? ' class="warning"' : ''}>${proseHtml(plainName(text))}${link}</p>`;
  };
  const topics = [...new Set(details.map(({ topic }) => topic))].map((topic) => {
    const sentences = details.filter((one) => one.topic === topic).map(sentence);
    return `<dt>${escapeHtml(words.page.topics[topic] ?? topic)}</dt><dd>${sentences.join('\n')}</dd>`;
  });
  return `<dl class="topics">${topics.join('\n')}</dl>`;
}
