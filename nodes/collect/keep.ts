import type { RedNode } from '../nodeRed';
import type { Held, Store } from './session';

const KEY = 'session';

/** What the node held, from the context store of that name. */
export async function recall(node: RedNode, store: string | undefined): Promise<Store> {
  const kept = await new Promise<unknown>((resolve, reject) => {
    node.context().get(KEY, store, (problem, value) => (problem ? reject(problem) : resolve(value)));
  });
  const { held, ...others } = (kept ?? { held: [], waiting: [] }) as Store;
  return { ...others, held: held.map(revive) };
}

/** Hand over what the node holds. */
export async function keep(node: RedNode, store: string | undefined, held: Store): Promise<void> {
  await new Promise<void>((resolve, reject) => {
    node.context().set(KEY, held, store, (problem) => (problem ? reject(problem) : resolve()));
  });
}

/** A store that writes JSON turns a Buffer into an object. */
function revive(one: Held): Held {
  const { measurement } = one;
  if (measurement.kind !== 'recording' || ArrayBuffer.isView(measurement.wav)) return one;
  const { data } = measurement.wav as unknown as { data: number[] };
  return { ...one, measurement: { ...measurement, wav: Buffer.from(data) } };
}
