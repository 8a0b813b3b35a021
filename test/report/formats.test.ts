import { describe, expect, it } from 'vitest';
import { renderReport } from '../../lib';
import { sampleInput } from './sampleSession';

/** Width and height in the head of a PNG: W3C PNG specification, 11.2.1, from memory. */
function sizeOf(png: Uint8Array): [number, number] {
  const view = new DataView(png.buffer, png.byteOffset, png.byteLength);
  expect([...png.slice(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return [view.getUint32(16), view.getUint32(20)];
}

const input = { ...sampleInput(), title: 'Sample unit', generatedAt: '2026-05-04' };

describe('a report in other forms', () => {
  it('is the page alone where nothing else is asked for', async () => {
    const made = await renderReport(input);
    expect(Object.keys(made).sort()).toEqual(['findingsJson', 'headlines', 'html', 'tables', 'verdict']);
  });

  it('says every headline and every known value in Markdown and in text', async () => {
    const {
      markdown = '',
      text = '',
      headlines,
      html,
    } = await renderReport(input, {
      formats: ['markdown', 'text'],
      credit: 'Lab A, CC BY',
    });
    const flat = text.replace(/\s+/g, ' ');
    const unescaped = markdown.replace(/\\(.)/g, '$1');
    expect(headlines.length).toBeGreaterThan(2);
    for (const { text: said } of headlines) {
      expect(flat).toContain(said.replace(/\s/g, ' '));
      expect(unescaped).toContain(said.replace(/\s/g, ' '));
    }
    const cells = [...html.matchAll(/<table class="glance">.*?<\/table>/gs)].flatMap(([table]) =>
      [...table.matchAll(/<td[^>]*>(.*?)<\/td>/gs)].map(([, cell]) =>
        cell
          .replace(/<[^>]+>/g, '')
          .replace(/&#39;/g, "'")
          .replace(/\s/g, ' '),
      ),
    );
    expect(cells.length).toBeGreaterThan(20);
    for (const cell of cells.filter((one) => one !== '' && one !== '–')) {
      expect(flat).toContain(cell);
      expect(unescaped).toContain(cell);
    }
    expect(text).toContain('2026-05-04');
    expect(markdown).toContain('Lab A, CC BY');
    for (const line of text.split('\n')) expect(line.length).toBeLessThanOrEqual(78);
    expect(text + markdown).not.toMatch(/undefined|NaN|\[object|<\/?\w+>/);
  });

  it('lets no name become a link, a heading, HTML or another cell', async () => {
    const odd = '# [x](javascript:alert(1)) | <img src=x onerror=alert(1)> `a` *b*';
    const { markdown = '' } = await renderReport({ ...input, title: odd }, { formats: ['markdown'], credit: odd });
    const bare = markdown.replace(/\\./g, '');
    expect(bare).not.toMatch(/\]\(|<img|`|javascript:alert\(/);
    expect(bare.split('\n').filter((line) => line.startsWith('#'))).toHaveLength(3);
  });

  it('draws every figure at two sizes, with title, date and credit', async () => {
    const { pictures = [], html } = await renderReport(input, { formats: ['png'], credit: 'Lab A' });
    const figures = [...html.matchAll(/<figure id="([^"]+)"/g)].map(([, id]) => id);
    expect([...new Set(pictures.map(({ figure }) => figure))].sort()).toEqual(figures.sort());
    expect(pictures).toHaveLength(2 * figures.length);
    for (const { png, widthPx, heightPx } of pictures) expect(sizeOf(png)).toEqual([widthPx, heightPx]);
    expect(new Set(pictures.map(({ name }) => name)).size).toBe(pictures.length);
  });

  it('refuses a form that it does not know', async () => {
    await expect(renderReport(input, { formats: ['docx' as 'text'] })).rejects.toMatchObject({
      code: 'bad-option',
      field: 'formats',
    });
  });
});
