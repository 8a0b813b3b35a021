import { readFileSync } from 'node:fs';
import { join } from 'node:path';

type Renderer = typeof import('@resvg/resvg-wasm');

/** It may be set up only once in a process, however often this file is loaded. */
const READY = Symbol.for('bassloom.svgToPng');
const kept = globalThis as { [READY]?: Promise<void> };

/**
 * Paint an SVG as a PNG of its own size. Its letters come from the font that the package brings along, since a machine may have none.
 *
 * @param svg with a width and a height in px. Letters that the font lacks (it has Latin, Greek and Cyrillic) stay empty boxes.
 */
export async function svgToPng(svg: string): Promise<Uint8Array> {
  const renderer: Renderer = require('@resvg/resvg-wasm');
  kept[READY] ??= renderer.initWasm(readFileSync(require.resolve('@resvg/resvg-wasm/index_bg.wasm')));
  await kept[READY];
  const image = new renderer.Resvg(svg, { font: { fontBuffers: fonts(), defaultFontFamily: 'Roboto' } });
  try {
    const painted = image.render();
    const png = painted.asPng();
    painted.free();
    return png;
  } finally {
    image.free();
  }
}

let loaded: Uint8Array[] | undefined;

function fonts(): Uint8Array[] {
  loaded ??= ['Roboto-Regular.ttf', 'Roboto-SemiBold.ttf'].map((name) => readFileSync(join(__dirname, 'font', name)));
  return loaded;
}
