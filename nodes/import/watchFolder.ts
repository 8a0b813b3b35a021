import { type FSWatcher, watch } from 'node:fs';
import { stat } from 'node:fs/promises';
import { type ListedFile, listFolder } from './listFolder';

/** What is new since the last look. */
export interface Change {
  /** Files that are new or have changed, and have stood still for a while. */
  ready: ListedFile[];
  /** Names of files that were ready once and are no more. */
  gone: string[];
  /** What is there and is no file. */
  odd: { name: string; what: string }[];
}

interface Options {
  folder: string;
  /** How long a file must stand still before it counts as whole. */
  settleS: number;
  /** What is passed over. */
  isOut(path: string): boolean;
  /** Whether others have to do with a file at all: few do. */
  isOfMany(name: string): boolean;
  /** Whether the change of such a file makes another one ready again that was ready before. */
  concerns(changed: string, other: string): boolean;
  /** Awaited before the next look. */
  onChange(change: Change): Promise<void>;
  /** The folder cannot be read, or can be again. */
  onState(problem: unknown): void;
}

interface Seen {
  mark: string;
  sinceMs: number;
  isReady: boolean;
}

/** Looks are made on events; and, as events get lost (network drives, folders made anew), every few seconds. */
const POLL_MS = 3000;
/** After an event others follow. */
const EVENT_MS = 100;
/** Looking takes no more than a tenth of the time, however large the folder. */
const REST = 10;

/** Watch a folder, and the folders in it, for files that come, change and go. Looks are made one after another. */
export function watchFolder(options: Options): { look(): void; close(): void } {
  const { folder, settleS, isOut, isOfMany, concerns, onChange, onState } = options;
  const seen = new Map<string, Seen>();
  const odd = new Map<string, string>();
  const watchers = new Map<string, { watcher: FSWatcher; inode: number }>();
  let timer: NodeJS.Timeout | undefined;
  let dueMs = 0;
  let restMs = 0;
  let isLooking = false;
  let isClosed = false;
  let isFirst = true;
  let isThere = true;

  const lookIn = (ms: number): void => {
    if (isClosed || isLooking) return;
    clearTimeout(timer);
    dueMs = performance.now() + ms;
    timer = setTimeout(look, ms);
  };
  const hurry = (): void => {
    const ms = Math.max(EVENT_MS, restMs);
    if (performance.now() + ms < dueMs) lookIn(ms);
  };
  const look = async (): Promise<void> => {
    if (isLooking || isClosed) return;
    isLooking = true;
    const begun = performance.now();
    let nextMs = POLL_MS;
    try {
      const { files, odd: strange, folders } = await listFolder(folder);
      restMs = (performance.now() - begun) * REST;
      await follow(folders);
      if (!isThere) onState(undefined);
      isThere = true;
      const change = compare(
        files.filter(({ path }) => !isOut(path)),
        strange,
      );
      if (change.ready.length + change.gone.length + change.odd.length > 0 && !isClosed) await onChange(change);
    } catch (problem) {
      if (isThere) onState(problem);
      isThere = false;
    }
    isLooking = false;
    const waiting = [...seen.values()].filter(({ isReady }) => !isReady);
    for (const { sinceMs } of waiting) nextMs = Math.min(nextMs, sinceMs + settleS * 1000 - performance.now());
    lookIn(Math.max(nextMs, restMs, EVENT_MS));
  };

  const compare = (files: ListedFile[], strange: Change['odd']): Change => {
    const nowMs = performance.now();
    const names = new Set(files.map(({ name }) => name));
    const gone: string[] = [];
    for (const [name, { isReady }] of seen) {
      if (names.has(name)) continue;
      seen.delete(name);
      if (isReady) gone.push(name);
    }
    for (const { name, size, mtimeMs, inode } of files) {
      const mark = `${size} ${mtimeMs} ${inode}`;
      if (seen.get(name)?.mark === mark) continue;
      // what stood there before the first look has stood still since it was written
      const ageMs = isFirst ? Math.max(0, Date.now() - mtimeMs) : 0;
      seen.set(name, { mark, sinceMs: nowMs - ageMs, isReady: false });
    }
    isFirst = false;
    const isNowReady = ({ name }: ListedFile): boolean => {
      const { isReady, sinceMs } = seen.get(name) as Seen;
      return !isReady && nowMs - sinceMs >= settleS * 1000;
    };
    const changed = [...gone, ...files.filter(isNowReady).map(({ name }) => name)].filter(isOfMany);
    const isConcerned = ({ name }: ListedFile) => changed.some((one) => concerns(one, name));
    const ready = files.filter((file) => isNowReady(file) || (seen.get(file.name)?.isReady && isConcerned(file)));
    for (const { name } of ready) (seen.get(name) as Seen).isReady = true;
    const isNew = strange.filter(({ name, what }) => odd.get(name) !== what);
    odd.clear();
    for (const { name, what } of strange) odd.set(name, what);
    return { ready, gone, odd: isNew };
  };

  /** Have events of these folders and of no others; a folder made anew is another one. */
  const follow = async (folders: string[]): Promise<void> => {
    const inodes = await Promise.all(
      folders.map((path) =>
        stat(path).then(
          ({ ino }) => ino,
          () => -1,
        ),
      ),
    );
    for (const [path, { watcher, inode }] of watchers) {
      const at = folders.indexOf(path);
      if (at >= 0 && inodes[at] === inode) continue;
      watcher.close();
      watchers.delete(path);
    }
    for (const [i, path] of folders.entries()) {
      if (watchers.has(path) || inodes[i] < 0 || isClosed) continue;
      try {
        const watcher = watch(path, hurry);
        watcher.on('error', hurry);
        watchers.set(path, { watcher, inode: inodes[i] });
      } catch {} // as many as the system lets us have; looks are made all the same
    }
  };

  lookIn(0);
  return {
    look: () => lookIn(0),
    close: () => {
      isClosed = true;
      clearTimeout(timer);
      for (const { watcher } of watchers.values()) watcher.close();
    },
  };
}
