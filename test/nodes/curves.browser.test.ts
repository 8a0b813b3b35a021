import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { newPage, startBrowser } from '../report/browser';
import { type RunningNodeRed, startNodeRed } from './process';

/** Posted text is imported, smoothed and fitted; a function beside it only listens. */
const flow = [
  { id: 'tab', type: 'tab', label: 'curves' },
  { id: 'post', z: 'tab', type: 'http in', url: '/give/:name', method: 'post', x: 100, y: 60, wires: [['named']] },
  {
    ...{ id: 'named', z: 'tab', type: 'function', x: 250, y: 60, outputs: 2, wires: [['import'], ['answered']] },
    func: 'const { req, res } = msg; return [{ payload: req.body, filename: req.params.name }, { req, res, payload: "ok" }];',
  },
  { id: 'answered', z: 'tab', type: 'http response', x: 400, y: 120, wires: [] },
  { id: 'import', z: 'tab', type: 'bassloom-import', source: 'payload', x: 400, y: 60, wires: [['smooth']] },
  {
    id: 'smooth',
    z: 'tab',
    type: 'bassloom-smoothing',
    name: 'third octave',
    fraction: '3',
    x: 550,
    y: 60,
    wires: [['fit']],
  },
  { id: 'fit', z: 'tab', type: 'bassloom-band-fit', curves: 'every', heightDb: '6', x: 700, y: 60, wires: [[]] },
];
const settings = {
  editorTheme: { tours: false, codeEditor: { lib: 'ace' } },
  externalModules: { palette: { allowInstall: false } },
  telemetry: { enabled: false, updateNotification: false },
};

interface EditorWindow {
  RED: {
    nodes: { node(id: string): unknown };
    sidebar: { show(id: string): void };
    view: { select(selection: { nodes: unknown[] }): void };
  };
}

const HZ = Array.from({ length: 700 }, (_, i) => 10 * 2 ** (i / 110));
/** A plateau that falls by 12 dB an octave below 30 Hz, with a narrow dip at 50 Hz; made up. */
const levelAt = (hz: number, topDb: number) =>
  topDb - 10 * Math.log10(1 + (30 / hz) ** 4) - 9 * Math.exp(-((Math.log2(hz / 50) / 0.04) ** 2));

describe.each(['node-red', 'node-red-4'])('the sidebar of curves in %s', (version) => {
  let red: RunningNodeRed;
  let browser: Browser;
  let page: Page;
  const problems: string[] = [];

  beforeAll(async () => {
    red = await startNodeRed(version, flow, settings);
    browser = await startBrowser();
    page = await newPage(browser, { viewport: { width: 1200, height: 900 } });
    page.on('pageerror', (problem) => problems.push(problem.stack ?? problem.message));
    page.on('console', (line) => line.type() === 'error' && problems.push(line.text()));
    await page.goto(red.url);
    await page.waitForFunction(() => (globalThis as unknown as EditorWindow).RED?.nodes?.node('fit'));
    await page.evaluate(() => (globalThis as unknown as EditorWindow).RED.sidebar.show('bassloom-curves'));
    await page.waitForSelector('.bassloom-curves', { state: 'visible' });
  });
  afterAll(async () => {
    await browser?.close();
    await red?.remove();
  });

  const give = (name: string, topDb: number) =>
    fetch(`${red.url}/give/${name}`, {
      method: 'POST',
      headers: { 'content-type': 'text/plain' },
      body: HZ.map((hz) => `${hz.toFixed(3)};${levelAt(hz, topDb).toFixed(3)}`).join('\n'),
    });
  const select = (...ids: string[]) =>
    page.evaluate((names) => {
      const { RED } = globalThis as unknown as EditorWindow;
      RED.view.select({ nodes: names.map((id) => RED.nodes.node(id)) });
    }, ids);
  const text = () => page.locator('.bassloom-curves').textContent();
  /** Waits until the sidebar says something. */
  const says = (pattern: string) =>
    page.waitForFunction(
      (source) => new RegExp(source).test(document.querySelector('.bassloom-curves')?.textContent ?? ''),
      pattern,
    );
  const picture = () => page.locator('.bassloom-picture');
  /** Waits until the picture of some nodes is in sight, not that of an earlier choice. */
  const drawn = (what: string) =>
    page.waitForFunction((shown) => {
      const image = document.querySelector<HTMLImageElement>(`.bassloom-picture[data-shown="${shown}"] img`);
      return image?.offsetParent && image.complete && image.naturalWidth > 0;
    }, what);
  /** The levels beside the cursor, dB, by the names of their curves. */
  const read = async (): Promise<{ hz: number; db: number[] }> => {
    const said = (await page.locator('.bassloom-curves output').textContent()) ?? '';
    const [hz, ...rest] = said.split('\u00b7');
    return {
      hz: Number.parseFloat(hz),
      db: rest.map((one) => Number(/(\u2212?[\d.]+)\sdB$/.exec(one.trim())?.[1].replace('\u2212', '-'))),
    };
  };

  test('says what to do while there is nothing to see', async () => {
    await says('Select a node');
    await select('smooth');
    await says('No measurement has gone through this node');
    expect(await picture().isVisible()).toBe(false);
  });

  test('shows what a node did as soon as it did it, with the true numbers', async () => {
    await give('unit_flat_step-1.txt', 90);
    await says('third octave');
    await drawn('curves of smooth');
    await picture().focus();
    const found = new Map<number, number[]>();
    for (let i = 0; i < 30; i++) {
      await page.keyboard.press(i === 0 ? 'Home' : 'ArrowRight');
      const { hz, db } = await read();
      found.set(hz, db);
    }
    let compared = 0;
    for (const [hz, [after, before]] of found) {
      // what came in is the curve itself, but for the points between those of a screen
      if (hz < 47 || hz > 53) expect(Math.abs(before - levelAt(hz, 90))).toBeLessThan(0.15);
      if (hz > 12 && hz < 40) expect(Math.abs(after - levelAt(hz, 90))).toBeLessThan(1.5);
      compared++;
    }
    expect(compared).toBeGreaterThan(25);
  });

  test('draws the finding of a node, and lets one look closer and back', async () => {
    await select('fit');
    await says('Window and range');
    await drawn('curves of fit');
    await page.locator('.bassloom-curves select').selectOption('bandFit');
    await drawn('bandFit of fit');
    await page.locator('.bassloom-curves select').selectOption('curves');
    await drawn('curves of fit');
    await picture().focus();
    await page.keyboard.press('Home');
    await page.keyboard.press('+');
    const whole = page.getByRole('button', { name: 'Whole range' });
    await whole.waitFor({ state: 'visible' });
    await page.keyboard.press('0');
    await whole.waitFor({ state: 'hidden' });
  });

  test('keeps one to compare with, and shows all as a table', async () => {
    await select('import');
    await drawn('curves of import');
    await page.getByRole('button', { name: 'Keep to compare' }).click();
    await page.getByRole('button', { name: 'Let go' }).waitFor();
    await give('unit_flat_step-2.txt', 96);
    await page.locator('.bassloom-curves label', { hasText: 'as a table' }).locator('input').check();
    await page.waitForFunction(() =>
      /96\.\d|95\.\d/.test(document.querySelector('.bassloom-curves table')?.textContent ?? ''),
    );
    const rows = await page
      .locator('.bassloom-curves tbody tr')
      .evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.textContent)));
    const at100 = rows.find(([hz]) => hz === '100') ?? [];
    expect(at100.slice(1).map(Number)).toEqual([
      expect.closeTo(levelAt(100, 96), 1),
      expect.closeTo(levelAt(100, 90), 1),
    ]);
    await page.getByRole('button', { name: 'Let go' }).click();
  });

  test('compares several nodes, has a name for all, nothing cut off, and no error', async () => {
    await select('import', 'smooth');
    await says('third octave: unit_flat_step-2|, third octave');
    await drawn('curves of import,smooth');
    const cut = await page.evaluate(() => {
      const side = document.querySelector('.bassloom-curves') as HTMLElement;
      const right = side.getBoundingClientRect().right + 1;
      return [...side.querySelectorAll<HTMLElement>('*')]
        .filter(
          (one) => one.offsetParent && !one.closest('.bassloom-scroll') && one.getBoundingClientRect().right > right,
        )
        .map((one) => one.outerHTML);
    });
    expect(cut).toEqual([]);
    expect(await text()).not.toMatch(/bassloom-curves:|undefined|NaN|\[object/);
    expect(problems).toEqual([]);
  });
});
