import { BassloomError } from '../../lib/model/errors';
import { type Own, showProblem } from '../define';
import { flag, number, text } from '../fields';
import type { Message } from '../nodeRed';
import { keep, recall } from './keep';
import { sortOutSameRuns } from './sameRuns';
import {
  type Held,
  heldOf,
  hold,
  inFixedOrder,
  letGo,
  notesOf,
  qualityOf,
  type RefusedFile,
  refuse,
  refusedNotes,
  type Store,
  unitsOf,
} from './session';
import { sparing, unshared } from './sparing';

export const settings = {
  quietS: number({ min: 0, max: 86400, otherwise: 2 }),
  store: text(),
  paced: flag(false),
  againS: number({ min: 0, max: 86400, otherwise: 30 }),
};

/** A report takes seconds; should its end be lost, the next unit goes on all the same. */
const PATIENCE_MS = 10 * 60 * 1000;
/** What failed is tried again later and later, but no later than this. */
const LATEST_S = 600;
/** What may be otherwise the next time. */
const PASSING = new Set(['disk-full', 'no-permission', 'no-such-file', 'not-a-folder', 'not-a-file']);

/** What a collecting node does between messages: it waits for quiet, then passes a unit's session on. */
export function openCollector({ node, RED, settings: own, enqueue }: Own<typeof settings>) {
  const timers = new Map<string, NodeJS.Timeout>();
  const lastMessages = new Map<string, Message>();
  /** Units whose quiet time is over, in that order. */
  const due = new Set<string>();
  let busy: { unit: string; timer: NodeJS.Timeout } | undefined;
  const failures = new Map<string, number>();
  const told = new Set<string>();

  const spare = sparing();
  const send = (store: Store, unit: string): boolean => {
    const { used, notes } = sortOutSameRuns(heldOf(store, unit));
    const session = inFixedOrder(used);
    if (session.every((one) => one.unit === null)) {
      lastMessages.delete(unit);
      return false;
    }
    const payload = session.map((one) => unshared(one.measurement));
    const captureQuality = qualityOf(session);
    const all = [...notesOf(session), ...notes, ...refusedNotes(store, unit)];
    const findings = { notes: all, ...(captureQuality.length > 0 && { captureQuality }) };
    for (const { code, message } of notes) {
      // what comes without files is taken anew by hand, and the report says it
      if (!session.some(({ file }) => file !== undefined) || told.has(`${unit} ${message}`)) continue;
      if (told.size > 1000) told.clear();
      told.add(`${unit} ${message}`);
      node.error(new BassloomError(code, `${unit}: ${message}`), { topic: unit });
    }
    node.send(RED.util.cloneMessage({ ...lastMessages.get(unit), topic: unit, payload, findings }));
    node.status({ fill: 'green', shape: 'dot', text: RED._('status.sent', { unit, count: payload.length }) });
    return true;
  };

  /** Pass on what is due: all of it, or one unit after another. */
  const passOn = async (): Promise<void> => {
    if (due.size === 0 || (own.paced && busy)) return;
    let store = await recall(node, own.store);
    const sent: string[] = [];
    for (const unit of due) {
      due.delete(unit);
      sent.push(unit);
      if (send(store, unit) && own.paced) {
        busy = { unit, timer: setTimeout(() => end(unit), PATIENCE_MS) };
        break;
      }
    }
    store = { ...store, waiting: store.waiting.filter((unit) => !sent.includes(unit)) };
    await keep(node, own.store, store);
  };
  const inTurn = (task: () => Promise<void>, unit: string): void =>
    enqueue(() =>
      task().catch((problem) => {
        showProblem(RED, node, problem);
        node.error(problem, { topic: unit });
      }),
    );
  const end = (unit: string): void => {
    if (busy?.unit !== unit) return;
    clearTimeout(busy.timer);
    busy = undefined;
    inTurn(passOn, unit);
  };

  const wait = (units: string[], quietS: number): void => {
    for (const unit of units) {
      clearTimeout(timers.get(unit));
      const pass = () => {
        timers.delete(unit);
        inTurn(() => {
          due.add(unit);
          return passOn();
        }, unit);
      };
      timers.set(unit, setTimeout(pass, quietS * 1000));
    }
  };
  const stop = (): void => {
    for (const timer of timers.values()) clearTimeout(timer);
    timers.clear();
    due.clear();
    if (busy) clearTimeout(busy.timer);
    busy = undefined;
  };
  const say = (count: number): void =>
    node.status({ fill: 'blue', shape: 'ring', text: RED._('status.waiting', { count }) });
  /** Do something to what is held; units that this changes wait for quiet. */
  const change = async (how: (store: Store) => Store, quietS: number): Promise<string[]> => {
    const before = await recall(node, own.store);
    const after = how({ ...before, waiting: [] });
    await keep(node, own.store, { ...after, waiting: [...new Set([...before.waiting, ...after.waiting])] });
    wait(after.waiting, quietS);
    say(after.held.length);
    return after.waiting;
  };

  enqueue(async () => {
    const { held, waiting } = await recall(node, own.store);
    wait(waiting, own.quietS);
    if (waiting.length > 0) say(held.length);
  });
  node.on('close', (_removed, done) => {
    stop();
    done();
  });

  return {
    /** Pass on all that is held, without waiting. */
    async passAllOn(): Promise<void> {
      for (const unit of unitsOf(await recall(node, own.store))) {
        clearTimeout(timers.get(unit));
        timers.delete(unit);
        due.add(unit);
      }
      await passOn();
    },
    async take(arrived: Held[], message: Message, quietS: number): Promise<void> {
      const small = arrived.map((one) => ({ ...one, measurement: spare(one.measurement) }));
      const units = await change((store) => hold(store, small), quietS);
      const { payload, findings, parts, flush, complete, filename, file, sources, lot, ...rest } = message;
      for (const unit of units) lastMessages.set(unit, rest);
    },
    /** Files of a watched folder are gone, or were refused. */
    async hear(
      { gone = [], refused = [] }: { gone?: string[]; refused?: RefusedFile[] },
      quietS: number,
    ): Promise<void> {
      const ofUnits = refused.filter(({ unit }) => typeof unit === 'string');
      await change((store) => refuse(letGo(store, gone), ofUnits), quietS);
    },
    /** The unit that was passed on is through; what could not be written is tried again by itself. */
    async through(unit: string, code: unknown): Promise<void> {
      if (PASSING.has(String(code))) {
        const times = failures.get(unit) ?? 0;
        failures.set(unit, times + 1);
        const store = await recall(node, own.store);
        await keep(node, own.store, { ...store, waiting: [...new Set([...store.waiting, unit])] });
        if (!timers.has(unit)) wait([unit], Math.min(own.againS * 2 ** times, Math.max(own.againS, LATEST_S)));
      } else failures.delete(unit);
      end(unit);
    },
    async forget(): Promise<undefined> {
      stop();
      await keep(node, own.store, { held: [], waiting: [] });
      node.status({ fill: 'grey', shape: 'ring', text: RED._('status.empty') });
      return undefined;
    },
  };
}
