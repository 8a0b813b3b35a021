/// <reference lib="dom" />
/// <reference lib="dom.iterable" />

import { createRequire } from 'node:module';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { newPage } from '../report/browser';
import { type RunningNodeRed, startNodeRed } from './process';

const require = createRequire(import.meta.url);
export const types: string[] = Object.keys(require('../../package.json')['node-red'].nodes);
const isConfig = (type: string) => ['bassloom-room', 'bassloom-procedure'].includes(type);
const flow = [
  { id: 'tab', type: 'tab', label: 'dialogs' },
  ...types
    .filter((type) => !isConfig(type))
    .map((type, i) => ({ id: type, z: 'tab', type, x: 200, y: 60 + 50 * i, wires: [[]] })),
  { id: 'bassloom-room', type: 'bassloom-room', name: 'a room', lengthM: '5.6', widthM: '4.1', heightM: '2.5' },
  { id: 'bassloom-procedure', type: 'bassloom-procedure', name: 'corner', windowHeightDb: '4', referenceLowHz: '50' },
];
const settings = {
  // the lighter editor of descriptions, which no test looks at
  editorTheme: { tours: false, codeEditor: { lib: 'ace' } },
  externalModules: { palette: { allowInstall: false } },
  telemetry: { enabled: false, updateNotification: false },
};

/** What the editor keeps in the page's global scope. */
export interface EditorWindow {
  RED: {
    nodes: {
      node(id: string): { type: string; valid: boolean; validationErrors?: string[] } | null;
      createExportableNodeSet(nodes: unknown[]): { id: string }[];
      import(nodes: unknown[], options: object): { nodes: { id: string }[] };
      remove(id: string): void;
      getNodeHelp(type: string): string;
    };
    history: { pop(): void };
    editor: { edit(node: unknown): void; editConfig(name: string, type: string, id: string): void };
    sidebar: { show(id: string): void };
    tray: { close(): void };
  };
}

/** A Node-RED with a node of every type; its id is the type. */
export const startWithAll = (version: string): Promise<RunningNodeRed> => startNodeRed(version, flow, settings);

/** The editor of a Node-RED with all nodes, at rest. */
export async function openEditor(browser: Browser, url: string, options: BrowserContextOptions = {}): Promise<Page> {
  const page = await newPage(browser, { viewport: { width: 1200, height: 900 }, ...options });
  await page.goto(url);
  await page.waitForFunction(() => (globalThis as unknown as EditorWindow).RED?.nodes?.node('bassloom-report'));
  // dialogs slide and fade for most of the time that this takes: let them not, once all is loaded
  await page.addStyleTag({ content: '* { transition: none !important; animation: none !important; }' });
  await page.evaluate(() => {
    const { setTimeout: later } = globalThis;
    const soon = (does: TimerHandler, ms = 0, ...rest: unknown[]) => later(does, ms <= 1000 ? ms / 20 : ms, ...rest);
    Object.assign(globalThis, { setTimeout: soon });
    (globalThis as unknown as { $: { fx: { off: boolean } } }).$.fx.off = true;
  });
  return page;
}

/** Open the dialog of a type, with all that is folded in it. */
export async function openDialog(page: Page, type: string): Promise<void> {
  await page.evaluate((id) => {
    const { RED } = globalThis as unknown as EditorWindow;
    const node = RED.nodes.node(id);
    if (['bassloom-room', 'bassloom-procedure'].includes(id)) RED.editor.editConfig('', id, id);
    else RED.editor.edit(node);
  }, type);
  await page.waitForSelector('.bassloom-form', { state: 'visible' });
  await page.waitForTimeout(20);
  await page.evaluate(() =>
    document.querySelectorAll('.bassloom-form details').forEach((one) => {
      one.setAttribute('open', '');
    }),
  );
}

export async function closeDialog(page: Page): Promise<void> {
  await page.evaluate(() => (globalThis as unknown as EditorWindow).RED.tray.close());
  await page.waitForSelector('.bassloom-form', { state: 'detached' });
}

/** What is wrong with the dialog that is open: lists that should be empty; and how many fields it has. */
export function lookAtDialog(page: Page) {
  return page.evaluate(() => {
    const form = document.querySelector('.bassloom-form') as HTMLElement;
    const right = form.getBoundingClientRect().right + 1;
    const all = [...form.querySelectorAll<HTMLElement>('*')].filter((one) => one.offsetParent);
    const texts = all.flatMap((one) => [
      one.childElementCount === 0 ? (one.textContent ?? '') : '',
      one.getAttribute('placeholder') ?? '',
      one.getAttribute('title') ?? '',
      one.getAttribute('aria-label') ?? '',
    ]);
    const fields = all.filter((one) => ['INPUT', 'SELECT'].includes(one.tagName));
    const isEmpty = (one: HTMLElement) => one.tagName === 'LABEL' && one.textContent?.trim() === '';
    const width = (text: string, { font }: CSSStyleDeclaration) => {
      const pen = document.createElement('canvas').getContext('2d') as CanvasRenderingContext2D;
      pen.font = font;
      return pen.measureText(text).width;
    };
    // Room for text: less the padding, and of a list the arrow.
    const isTooLong = (one: HTMLElement, text: string) => {
      const style = getComputedStyle(one);
      const taken = Number.parseFloat(style.paddingLeft) + Number.parseFloat(style.paddingRight);
      return width(text, style) > one.clientWidth - taken - (one.tagName === 'SELECT' ? 20 : 0);
    };
    return {
      keys: texts.filter((text) => /^[\w@/-]+[:.][\w:.-]*[a-z]$/.test(text) && !text.startsWith('utf')),
      cut: all.filter((one) => one.getBoundingClientRect().right > right).map((one) => one.id || one.outerHTML),
      // a word wider than its label lies on the field beside it
      wide: all
        .filter((one) => one.tagName === 'LABEL' && one.scrollWidth > one.clientWidth + 1)
        .map((one) => one.textContent?.trim()),
      long: fields.flatMap((one) =>
        [one.getAttribute('placeholder') ?? '', ...[...one.querySelectorAll('option')].map(({ text }) => text)].filter(
          (text) => isTooLong(one, text),
        ),
      ),
      unnamed: fields
        .filter((one) => !one.getAttribute('aria-label') && !form.querySelector(`label[for="${one.id}"]`))
        .map((one) => one.outerHTML),
      empty: all.filter(isEmpty).map((one) => one.outerHTML),
      blank: fields.filter((one) => one instanceof HTMLSelectElement && one.selectedIndex < 0).map((one) => one.id),
      count: fields.length,
    };
  });
}
