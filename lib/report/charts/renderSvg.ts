import type { EChartsOption } from 'echarts';
import type { Layout } from './layout';
import { LIGHT, type Palette } from './palette';
import { shareClips } from './shareClips';

/** An option together with the height it was laid out for. */
export interface Chart {
  option: EChartsOption;
  height: number;
}

/** Draws a chart for one layout in one palette. */
export type ChartBuilder = (layout: Layout, palette: Palette) => Chart;

/**
 * Render a chart to an SVG element without a browser.
 *
 * Drawn in the light palette, so that the picture stands on its own; every painted element also carries a
 * class that says what its colour is for (`f-…` fill, `s-…` stroke), so that a page can repaint it.
 *
 * @param id prefix of all ids inside, unique on the page.
 * @param words title and text alternative.
 */
export function renderSvg(
  build: ChartBuilder,
  layout: Layout,
  id: string,
  words: { title: string; text: string },
): string {
  const { inner, height } = drawInner(build, layout, LIGHT, id);
  return (
    `<svg viewBox="0 0 ${layout.width} ${height}" xmlns="http://www.w3.org/2000/svg" class="chart ${id.endsWith('-n') ? 'narrow' : 'wide'}" role="img" ` +
    `aria-labelledby="${id}-t" aria-describedby="${id}-d"><title id="${id}-t">${escapeXml(words.title)}</title>` +
    `<desc id="${id}-d">${escapeXml(words.text)}</desc>${inner.replace(PAINTED, classed)}</svg>`
  );
}

/** What stands inside the SVG element of a chart, in the colours of a palette. */
export function drawInner(
  build: ChartBuilder,
  layout: Layout,
  palette: Palette,
  id: string,
): { inner: string; height: number } {
  // Loading ECharts takes time, which nobody should pay who does not draw.
  const { init } = require('./chartLibrary.mjs') as typeof import('echarts/core');
  const { option, height } = build(layout, palette);
  const chart = init(null, null, { renderer: 'svg', ssr: true, width: layout.width, height });
  try {
    chart.setOption(option);
    return { inner: tidy(chart.renderToSVGString(), id), height };
  } finally {
    chart.dispose(); // an instance left alive keeps the process alive
  }
}

/** Class of each colour of the light palette, by its value. */
const ROLES: Map<string, string> = new Map(
  Object.entries(LIGHT).flatMap(([role, colour]: [string, string | string[]]): [string, string][] =>
    Array.isArray(colour) ? colour.map((one, k) => [one, `${role}-${k}`]) : [[colour, role]],
  ),
);

const PAINTED = /<(path|text|rect|circle|polygon|polyline|line)\b[^>]*>/g;

function tidy(svg: string, id: string): string {
  const inner = svg
    .slice(svg.indexOf('>') + 1, svg.lastIndexOf('</svg>'))
    .replace(/<style\s*><!\[CDATA\[[\s\S]*?\]\]>\s*<\/style>/g, '')
    .replace(/ (class|ecmeta_\w+|pointer-events|xml:space)="[^"]*"/g, '')
    .replace(/<rect [^>]*fill="none"><\/rect>\n?/, '')
    .replace(/\bzr\d+-/g, `${id}-`)
    .replace(/ d="[^"]*"/g, shortNumbers)
    .replace(/ transform="[^"]*"/g, shortNumbers)
    .replace(/\n+/g, '\n');
  return shareClips(inner);
}

function classed(tag: string): string {
  const classes = [
    [/ fill="([^"]+)"/, 'f'],
    [/ stroke="([^"]+)"/, 's'],
  ].flatMap(([pattern, kind]) => {
    const role = ROLES.get((pattern as RegExp).exec(tag)?.[1] ?? '');
    return role ? [`${kind}-${role}`] : [];
  });
  return classes.length === 0 ? tag : tag.replace(/\/?>$/, (end) => ` class="${classes.join(' ')}"${end}`);
}

function shortNumbers(attribute: string): string {
  return attribute.replace(/-?\d+\.\d+/g, (number) => String(Number(Number(number).toFixed(1))));
}

export function escapeXml(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
}
