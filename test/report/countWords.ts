/// <reference lib="dom" />
/// <reference lib="dom.iterable" />

import type { Page } from 'playwright-core';

export interface Words {
  /** Name, what was measured, headlines and caption: all that stands before the table at a glance, but for lettering in the picture. */
  first: number;
  /** All that is seen while nothing is unfolded, lettering and numbers of the pictures counted in. */
  shown: number;
  /** Of each headline, without its links. */
  headlines: number[];
  /** Where the last headline ends, px from the top. */
  bottom: number;
}

/** Count the words that a reader of a report meets; folds must be closed. */
export async function countWords(page: Page): Promise<Words> {
  return page.evaluate(() => {
    const count = (text: string): number => text.split(/\s+/).filter(Boolean).length;
    // biome-ignore lint/performance/useDomNodeTextContent: only what is rendered is read
    const shownIn = (element: Element): number => count((element as HTMLElement).innerText);
    const lettering = (element: Element): number =>
      [...element.querySelectorAll('svg')]
        .filter((svg) => svg.getClientRects().length > 0)
        .flatMap((svg) => [...svg.querySelectorAll('text')])
        .reduce((sum, text) => sum + count(text.textContent ?? ''), 0);
    const items = [...document.querySelectorAll('.headlines li')];
    const own = (item: Element): string =>
      [...item.childNodes].map((node) => ((node as Element).tagName === 'A' ? '' : node.textContent)).join('');
    const first = document.querySelector('.first') as Element;
    return {
      first: shownIn(document.querySelector('header') as Element) + shownIn(first) - lettering(first),
      shown: shownIn(document.body),
      headlines: items.map((item) => count(own(item))),
      bottom: items.at(-1)?.getBoundingClientRect().bottom ?? 0,
    };
  });
}
