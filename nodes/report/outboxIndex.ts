import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { byName } from '../byName';
import { exists } from '../exists';
import { writeWhole } from '../writeWhole';
import { type IndexEntry, indexHtml } from './indexHtml';
import { OUTDATED, PAGE } from './outdated';

/** The page of all units, and what it was made of, so that it knows units of before a restart. */
const INDEX = 'index.html';
const ENTRIES = '.index.json';
/** Written once reports have ceased for that long, but no later than so long after the first. */
const QUIET_MS = 2000;
const LATEST_MS = 30_000;

export interface OutboxIndex {
  /** A report was written. */
  add(entry: IndexEntry): void;
  /** Something else about reports changed. */
  touch(): void;
  /** Write what is not written yet. */
  close(): Promise<void>;
}

/** Keep the page of all units in a folder of reports, written once for each lot of them. */
export function openIndex(folder: string, onProblem: (problem: unknown) => void): OutboxIndex {
  const fresh = new Map<string, IndexEntry>();
  let known: Map<string, IndexEntry> | undefined;
  let timer: NodeJS.Timeout | undefined;
  let sinceMs: number | undefined;
  let turn: Promise<void> = Promise.resolve();

  const write = async (): Promise<void> => {
    known ??= new Map((await keptIn(folder)).map((entry) => [entry.folder, entry]));
    for (const [name, entry] of fresh) known.set(name, entry);
    fresh.clear();
    const there = await reportsIn(folder);
    const entries = there.map(({ name, isOutdated }): IndexEntry => {
      // a report of an earlier version is known by its folder alone
      const entry = known?.get(name) ?? { folder: name, unit: name, settings: [], headlines: [] };
      return { ...entry, isOutdated };
    });
    known = new Map(entries.map((entry) => [entry.folder, entry]));
    await writeWhole(join(folder, ENTRIES), JSON.stringify(entries));
    await writeWhole(join(folder, INDEX), indexHtml(entries));
  };
  const writeInTurn = (): Promise<void> => {
    clearTimeout(timer);
    timer = undefined;
    sinceMs = undefined;
    turn = turn.then(write).catch(onProblem);
    return turn;
  };
  const touch = (): void => {
    const nowMs = performance.now();
    sinceMs ??= nowMs;
    clearTimeout(timer);
    timer = setTimeout(writeInTurn, Math.max(0, Math.min(QUIET_MS, sinceMs + LATEST_MS - nowMs)));
  };
  touch();
  return {
    add(entry) {
      fresh.set(entry.folder, entry);
      touch();
    },
    touch,
    close: () => (timer === undefined ? turn : writeInTurn()),
  };
}

async function reportsIn(folder: string): Promise<{ name: string; isOutdated: boolean }[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  const found: { name: string; isOutdated: boolean }[] = [];
  for (const entry of entries) {
    const at = join(folder, entry.name);
    if (!entry.isDirectory() || !(await exists(join(at, PAGE)))) continue;
    found.push({ name: entry.name, isOutdated: await exists(join(at, OUTDATED)) });
  }
  return found.sort((a, b) => byName(a.name, b.name));
}

async function keptIn(folder: string): Promise<IndexEntry[]> {
  try {
    const kept: unknown = JSON.parse(await readFile(join(folder, ENTRIES), 'utf8'));
    return Array.isArray(kept) ? kept.filter(isEntry) : [];
  } catch {
    return []; // the first, or one that was cut off
  }
}

function isEntry(value: unknown): value is IndexEntry {
  const { folder, unit, date, settings, headlines } = (value ?? {}) as Record<string, unknown>;
  const isTexts = (list: unknown) => Array.isArray(list) && list.every((one) => typeof one === 'string');
  const isDated = date === undefined || typeof date === 'string';
  return typeof folder === 'string' && typeof unit === 'string' && isDated && isTexts(settings) && isTexts(headlines);
}
