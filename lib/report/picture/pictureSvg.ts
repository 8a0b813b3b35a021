import { createHash } from 'node:crypto';
import type { ReportWords } from '../../words/reportWords';
import { FONT_FAMILY, fitText, type Layout, textWidth } from '../charts/layout';
import { DARK, LIGHT, PAPER, type Palette } from '../charts/palette';
import { drawInner, escapeXml } from '../charts/renderSvg';
import type { Figure } from '../figures/figure';
import type { SettledChart } from './chartOptions';

const THEMES: Record<SettledChart['theme'], Palette> = { light: LIGHT, dark: DARK, paper: PAPER };

/** A picture larger than this both ways is the same one magnified: lines and letters grow with it. */
const USUAL_PX = { width: 900, height: 520 };
/** Narrower than this it is laid out as for a phone. */
const NARROW_PX = 600;

/** A picture, and where its chart stands in it: px before it is magnified. */
export interface Picture {
  svg: string;
  left: number;
  top: number;
  zoom: number;
}

/**
 * A figure as a picture that stands alone: title, chart and credit on its own ground, of exactly the size asked for.
 *
 * Equal input gives equal bytes. Nothing in it is fetched or run; names are text.
 */
export function pictureSvg(
  figure: Pick<Figure, 'title' | 'text' | 'build'>,
  options: SettledChart,
  words: ReportWords,
): Picture {
  const { widthPx, heightPx, theme, credit } = options;
  const zoom = Math.max(1, Math.min(widthPx / USUAL_PX.width, heightPx / USUAL_PX.height));
  const [width, height] = [widthPx / zoom, heightPx / zoom];
  const palette = THEMES[theme];
  const name = width < NARROW_PX ? 'narrow' : 'wide';
  const fontSize = name === 'wide' ? 14 : 12;
  const edge = Math.round(fontSize * 0.9);
  const title = options.title ?? figure.title;
  const head = titleLines(title, width - 2 * edge, fontSize);
  const foot = credit ? fontSize * 1.5 : 0;
  const top = edge + head.height;
  const layout: Layout = {
    ...{ name, fontSize, words, isFixed: true },
    width: width - 2 * edge,
    height: height - top - foot - edge * 0.6,
  };
  // several on one page must not share what they refer to by id
  const id = (inner: string): string => `c${createHash('sha256').update(inner).digest('hex').slice(0, 8)}`;
  const { inner } = drawInner(figure.build, layout, palette, 'ID');
  const mark = id(`${inner}${title}${credit}${widthPx}${heightPx}`);
  const texts = [
    ...head.lines.map((line) => textSvg(line, edge, palette.ink, true)),
    ...(credit
      ? [
          textSvg(
            { text: fitText(credit, fontSize * 0.86, width - 2 * edge), y: height - edge * 0.7, size: fontSize * 0.86 },
            edge,
            palette.muted,
          ),
        ]
      : []),
  ];
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}" viewBox="0 0 ${short(width)} ${short(height)}" role="img" ` +
    `aria-labelledby="${mark}-t" aria-describedby="${mark}-d"><title id="${mark}-t">${escapeXml(title || figure.title)}</title>` +
    `<desc id="${mark}-d">${escapeXml(figure.text)}</desc><rect width="100%" height="100%" fill="${palette.paper}"/>${texts.join('')}` +
    `<g transform="translate(${edge} ${short(top)})">${inner.replace(/\bID-/g, `${mark}-`)}</g></svg>\n`;
  return { svg, left: edge, top, zoom };
}

interface Line {
  text: string;
  /** Of its feet, px. */
  y: number;
  size: number;
}

/** A title in one line; where it is too long in smaller letters, then in two. */
function titleLines(title: string, width: number, fontSize: number): { lines: Line[]; height: number } {
  if (title === '') return { lines: [], height: 0 };
  const size = [1.3, 1.1].map((more) => more * fontSize).find((one) => textWidth(title, one) <= width);
  const letter = size ?? fontSize * 1.1;
  const rows = size ? [title] : inTwo(title, letter, width);
  const row = letter * 1.25;
  return {
    lines: rows.map((text, k) => ({ text, y: fontSize * 0.9 + letter * 0.8 + k * row, size: letter })),
    height: rows.length * row + fontSize * 0.7,
  };
}

function inTwo(title: string, size: number, width: number): string[] {
  const rows: string[] = [''];
  for (const word of title.split(' ')) {
    const longer = rows[rows.length - 1] ? `${rows[rows.length - 1]} ${word}` : word;
    if (rows.length === 2 || rows[0] === '' || textWidth(longer, size) <= width) rows[rows.length - 1] = longer;
    else rows.push(word);
  }
  return rows.map((row) => fitText(row, size, width));
}

function textSvg({ text, y, size }: Line, x: number, fill: string, bold = false): string {
  const weight = bold ? ' font-weight="600"' : '';
  return `<text x="${x}" y="${short(y)}" font-family="${FONT_FAMILY}" font-size="${short(size)}"${weight} fill="${fill}">${escapeXml(text)}</text>`;
}

function short(value: number): string {
  return String(Number(value.toFixed(2)));
}
