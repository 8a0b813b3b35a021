import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { startBrowser } from '../report/browser';
import {
  closeDialog,
  type EditorWindow,
  lookAtDialog,
  openDialog,
  openEditor,
  startWithAll,
  types,
} from './editorPage';
import type { RunningNodeRed } from './process';

describe.each(['node-red', 'node-red-4'])('the editor of %s', (version) => {
  let red: RunningNodeRed;
  let browser: Browser;
  let page: Page;
  const problems: string[] = [];

  beforeAll(async () => {
    red = await startWithAll(version);
    browser = await startBrowser();
    page = await openEditor(browser, red.url);
    page.on('pageerror', (problem) => problems.push(problem.stack ?? problem.message));
  });
  afterAll(async () => {
    await browser?.close();
    await red?.remove();
  });

  const open = (type: string) => openDialog(page, type);
  const close = () => closeDialog(page);

  test.each(types)('shows the dialog of %s with all its words, labels and nothing cut off', async (type) => {
    await open(type);
    const found = await lookAtDialog(page);
    await close();
    expect(found).toMatchObject({ keys: [], cut: [], wide: [], long: [], unnamed: [], empty: [], blank: [] });
    expect(found.count).toBeGreaterThan(1);
    expect(problems).toEqual([]);
  });

  test('says what is wrong with a value while it is typed', async () => {
    await open('bassloom-band-fit');
    const wrong = async (field: string, value: string) => {
      const input = page.locator(`#node-input-${field}`);
      await input.fill(value);
      await input.dispatchEvent('change');
      await page.waitForTimeout(20);
      return input.evaluate((one) => one.classList.contains('input-error'));
    };
    expect(await wrong('heightDb', '-1')).toBe(true);
    expect(await wrong('heightDb', 'tall')).toBe(true);
    expect(await wrong('heightDb', '5,5')).toBe(false);
    // biome-ignore lint/suspicious/noTemplateCurlyInString: that is how Node-RED writes environment variables
    expect(await wrong('heightDb', '${HEIGHT}')).toBe(false);
    expect(await wrong('rangeLowHz', '100')).toBe(false);
    expect(await wrong('rangeHighHz', '50')).toBe(true);
    await page.locator('#node-input-rangeHighHz').hover();
    await page.locator('.red-ui-popover').getByText('must be above 100').waitFor();
    expect(await wrong('rangeHighHz', '')).toBe(false);
    await close();
    await open('bassloom-distortion');
    expect(await wrong('percents', '1,5; 3')).toBe(false);
    expect(await wrong('percents', '1,5')).toBe(true);
    await close();
    await open('bassloom-report');
    const border = () => page.locator('#node-input-folder').evaluate((one) => getComputedStyle(one).borderLeftWidth);
    expect(await border()).toBe('4px');
    await page.locator('#node-input-folder').fill('reports');
    expect(await border()).toBe('1px');
    await close();
  });

  test('shows what the names of files are read as, and a pattern for those that do not match', async () => {
    await open('bassloom-import');
    await page.locator('#node-input-source').selectOption('files');
    await page.locator('#node-input-namePattern').fill('{device} {setting}');
    // the session of the demo, in the package
    await page.locator('#node-input-files').fill('demo/session');
    const told = page.locator('#bassloom-import-names');
    await told.getByText('2 of 22 file names').waitFor();
    await told.getByRole('button').click();
    await told.getByText('22 of 22 file names').waitFor();
    expect(await told.locator('tr', { hasText: 'step-03.txt' }).first().textContent()).toContain('9 dB');
    await close();
  });

  test('shows the value that the chosen procedure would give', async () => {
    await open('bassloom-band-fit');
    const placeholders = () =>
      page.evaluate(() =>
        ['heightDb', 'referenceLowHz', 'referenceHighHz'].map((name) =>
          document.querySelector(`#node-input-${name}`)?.getAttribute('placeholder'),
        ),
      );
    expect(await placeholders()).toEqual(['5', '40', '80']);
    await page.locator('#node-input-procedure').selectOption('bassloom-procedure');
    expect(await placeholders()).toEqual(['4', '50', '80']);
    await close();
  });

  test('tells the modes of a room while its sides are typed', async () => {
    await open('bassloom-room');
    const said = page.locator('#bassloom-room-modes');
    await page.waitForFunction(() => document.querySelector('#bassloom-room-modes')?.textContent?.includes('Hz'));
    // c/2L with c = 343.2 m/s at 20 degrees: 30.6 Hz for 5.6 m, 28.6 Hz for 6 m.
    expect(await said.textContent()).toContain('30.6');
    await page.locator('#node-config-input-lengthM').fill('6');
    await page.waitForFunction(() => document.querySelector('#bassloom-room-modes')?.textContent?.includes('28.6'));
    await close();
  });

  test('tells how long a sweep lasts and how long ears may stay, and says at the field what is wrong', async () => {
    await open('bassloom-sweep');
    const says = (id: string, text: string) =>
      page.waitForFunction(([id, text]) => document.querySelector(id)?.textContent?.includes(text), [id, text]);
    // L ln(f2/f1) with L = round(f1 T / ln(f2/f1)) / f1: 20.157 s for the default, 5 to 400 Hz in 20 s.
    await says('#bassloom-sweep-plan', '20.16');
    await page.locator('#node-input-levelDba').fill('94');
    // NIOSH 98-126: 94 dBA for an hour.
    await says('#bassloom-sweep-permitted', '60 min');
    await page.locator('#node-input-endHz').fill('3');
    await says('.form-row:has(#node-input-endHz) + .bassloom-refusal', 'must rise');
    await page.locator('#node-input-endHz').fill('');
    await says('#bassloom-sweep-plan', '20.16');
    expect(await page.locator('.bassloom-refusal').count()).toBe(0);
    await close();
    expect(problems).toEqual([]);
  });

  test('tells how many bursts there are, and keeps a changed table of limits as text', async () => {
    const says = (id: string, text: string) =>
      page.waitForFunction(([id, text]) => document.querySelector(id)?.textContent?.includes(text), [id, text]);
    await open('bassloom-tone-burst');
    // 20 to 160 Hz are ten third octaves, -30 to -6 dB in steps of 3 dB nine levels.
    await says('#bassloom-burst-plan', '90 bursts at 9 levels');
    await page.locator('#node-input-toHz').fill('10');
    await says('.form-row:has(#node-input-toHz) + .bassloom-refusal', 'that rises');
    await page.locator('#node-input-toHz').fill('20');
    await says('#bassloom-burst-plan', '9 bursts at 9 levels');
    await close();
    await open('bassloom-maximum-output');
    const kept = () => page.locator('#node-input-limits').inputValue();
    expect(await page.locator('#bassloom-limits tbody tr').count()).toBe(5);
    expect(await kept()).toBe('');
    await page.locator('#bassloom-limits tbody input').nth(2).fill('-12');
    expect(await kept()).toBe('2: -12; 3: -15; 4-5: -20; 6-8: -30; 9-: -40');
    await page.locator('#bassloom-limits tbody button').nth(4).click();
    expect(await kept()).toBe('2: -12; 3: -15; 4-5: -20; 6-8: -30');
    await page.locator('#bassloom-limits-reset').click();
    expect(await kept()).toBe('');
    await close();
    expect(problems).toEqual([]);
  });

  test.each([
    ['bassloom-maximum-output', { measuredAtM: '2', limits: '2: -12; 3: -15; 4-5: -20; 6-8: -30; 9-: -40' }],
    ['bassloom-virtual-rig', { steps: '4', muted: true, limiter: false }],
    ['bassloom-calibration', { source: 'sensitivity', sensitivityMvPerPa: '12,5' }],
  ])('leaves %s as it is unless something is changed, keeps that in exports, and can undo it', async (type, values) => {
    const done = async () => {
      await page.evaluate(() => document.querySelector<HTMLElement>('#node-dialog-ok')?.click());
      await page.waitForSelector('.bassloom-form', { state: 'detached' });
      await page.waitForTimeout(20);
    };
    const look = () =>
      page.evaluate((id) => {
        const { nodes } = (globalThis as unknown as EditorWindow).RED;
        const node = nodes.node(id) as object & { changed?: boolean };
        return { changed: Boolean(node.changed), kept: nodes.createExportableNodeSet([node])[0] };
      }, type);
    // written by hand, the node has no properties yet: its first dialog fills them in
    await open(type);
    await done();
    await page.evaluate((id) => {
      ((globalThis as unknown as EditorWindow).RED.nodes.node(id) as { changed?: boolean }).changed = false;
    }, type);
    const before = await look();
    await open(type);
    await done();
    expect(await look()).toEqual({ ...before, changed: false });

    await open(type);
    if (type === 'bassloom-maximum-output') await page.locator('#bassloom-limits tbody input').nth(2).fill('-12');
    for (const [name, value] of Object.entries(values)) {
      const field = page.locator(`#node-input-${name}`);
      if (typeof value === 'boolean') await field.setChecked(value);
      else if (name === 'source') await field.selectOption(value);
      else if (name !== 'limits') await field.fill(value);
    }
    await done();
    const after = await look();
    expect(after).toEqual({ changed: true, kept: { ...before.kept, ...values } });
    const imported = await page.evaluate((kept) => {
      const { nodes } = (globalThis as unknown as EditorWindow).RED;
      const [copy] = nodes.import([structuredClone(kept)], { generateIds: true }).nodes;
      const found = nodes.createExportableNodeSet([copy])[0];
      nodes.remove(copy.id);
      return { ...found, id: kept.id };
    }, after.kept);
    expect(imported).toEqual({ ...after.kept, x: expect.any(Number), y: expect.any(Number) });
    await page.evaluate(() => (globalThis as unknown as EditorWindow).RED.history.pop());
    expect((await look()).kept).toEqual(before.kept);
    expect(problems).toEqual([]);
  });

  test('lets dialogs shrink to a narrow screen', async () => {
    const leastWidth = () =>
      page.evaluate(() => getComputedStyle(document.querySelector('.red-ui-tray-body') as HTMLElement).minWidth);
    await open('bassloom-sweep');
    expect(Number.parseFloat(await leastWidth())).toBeGreaterThan(400);
    await page.setViewportSize({ width: 390, height: 900 });
    expect(await leastWidth()).toBe('0px');
    await page.setViewportSize({ width: 1200, height: 900 });
    await close();
  });

  test('shows the help of every node', async () => {
    for (const type of types) {
      const help = await page.evaluate(async (name) => {
        const text = (
          globalThis as unknown as { RED: { nodes: { getNodeHelp(type: string): string } } }
        ).RED.nodes.getNodeHelp(name);
        return text ?? '';
      }, type);
      expect(help).toContain('<h3>References</h3>');
    }
  });
});
