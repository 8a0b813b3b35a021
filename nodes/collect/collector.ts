import { type Own, showProblem } from '../define';
import { number, text } from '../fields';
import type { Message } from '../nodeRed';
import { keep, recall } from './keep';
import { type Held, hold, notesOf, qualityOf, sessionOf, unitsOf } from './session';

export const settings = { quietS: number({ min: 0, max: 86400, otherwise: 2 }), store: text() };

/** What a collecting node does between messages: it waits for quiet, then passes a unit's session on. */
export function openCollector({ node, RED, settings: own, enqueue }: Own<typeof settings>) {
  const timers = new Map<string, NodeJS.Timeout>();
  const lastMessages = new Map<string, Message>();

  const passOn = async (only?: string): Promise<void> => {
    const store = await recall(node, own.store);
    const units = only === undefined ? unitsOf(store) : [only];
    for (const unit of units) {
      clearTimeout(timers.get(unit));
      const session = sessionOf(store, unit);
      const payload = session.map((one) => one.measurement);
      const captureQuality = qualityOf(session);
      const findings = { notes: notesOf(session), ...(captureQuality.length > 0 && { captureQuality }) };
      node.send(RED.util.cloneMessage({ ...lastMessages.get(unit), topic: unit, payload, findings }));
      node.status({ fill: 'green', shape: 'dot', text: RED._('status.sent', { unit, count: payload.length }) });
    }
    await keep(node, own.store, { ...store, waiting: store.waiting.filter((unit) => !units.includes(unit)) });
  };

  const wait = (units: string[], quietS: number): void => {
    for (const unit of units) {
      clearTimeout(timers.get(unit));
      const pass = () =>
        passOn(unit).catch((problem) => {
          showProblem(RED, node, problem);
          node.error(problem, { topic: unit });
        });
      timers.set(
        unit,
        setTimeout(() => enqueue(pass), quietS * 1000),
      );
    }
  };
  const say = (count: number): void =>
    node.status({ fill: 'blue', shape: 'ring', text: RED._('status.waiting', { count }) });

  enqueue(async () => {
    const { held, waiting } = await recall(node, own.store);
    wait(waiting, own.quietS);
    if (waiting.length > 0) say(held.length);
  });
  node.on('close', (_removed, done) => {
    for (const timer of timers.values()) clearTimeout(timer);
    done();
  });

  return {
    passOn,
    async take(arrived: Held[], message: Message, quietS: number): Promise<void> {
      const before = await recall(node, own.store);
      const after = hold(before, arrived);
      await keep(node, own.store, after);
      const units = arrived.some((one) => one.unit === null)
        ? unitsOf(after)
        : arrived.map((one) => one.unit as string);
      const { payload, findings, parts, flush, complete, filename, file, ...rest } = message;
      for (const unit of units) lastMessages.set(unit, rest);
      wait(units, quietS);
      say(after.held.length);
    },
    async forget(): Promise<undefined> {
      for (const timer of timers.values()) clearTimeout(timer);
      await keep(node, own.store, { held: [], waiting: [] });
      node.status({ fill: 'grey', shape: 'ring', text: RED._('status.empty') });
      return undefined;
    },
  };
}
