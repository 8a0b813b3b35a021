/// <reference lib="dom" />
/// <reference lib="dom.iterable" />

/** Lettering of the charts shown that is cut off or covers other lettering; runs in the page. */
export function lettersAmiss(): string[] {
  return [...document.querySelectorAll('svg.chart')]
    .filter((svg) => svg.getClientRects().length > 0)
    .flatMap((svg) => {
      const frame = svg.getBoundingClientRect();
      const boxes = [...svg.querySelectorAll('text')].map((text) => ({
        text: text.textContent,
        box: text.getBoundingClientRect(),
      }));
      const cut = boxes
        .filter(({ box }) => box.left < frame.left - 2 || box.right > frame.right + 2 || box.bottom > frame.bottom + 2)
        .map(({ text }) => `${svg.id} cut: ${text}`);
      const covered = boxes.flatMap((a, i) =>
        boxes.slice(i + 1).flatMap((b) => {
          const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
          // A line box is taller than its letters: a fifth of it is air.
          const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top) - 0.2 * a.box.height;
          return across > 1 && down > 1 ? [`${svg.querySelector('title')?.textContent}: ${a.text} / ${b.text}`] : [];
        }),
      );
      return [...cut, ...covered];
    });
}
