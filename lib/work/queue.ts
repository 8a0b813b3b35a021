/**
 * Let so many in at once, the others in the order they came.
 *
 * @returns a function that waits for a place and gives the function to leave it with; it rejects with the reason of a
 * signal that is aborted while it waits.
 *
 * The pool's own queue is not used: where an abort ends its last thread, what waits in it would wait for ever.
 *
 * @example
 * const leave = await enter(2)();
 */
export function enter(places: number): (signal?: AbortSignal) => Promise<() => void> {
  let free = places;
  const waiting: (() => void)[] = [];
  const leave = () => {
    const next = waiting.shift();
    if (next) next();
    else free++;
  };
  const onceOnly = () => {
    let isIn = true;
    return () => {
      if (isIn) leave();
      isIn = false;
    };
  };
  return async (signal) => {
    if (free > 0) {
      free--;
      return onceOnly();
    }
    await new Promise<void>((resolve, reject) => {
      const giveUp = () => {
        waiting.splice(waiting.indexOf(come), 1);
        reject(signal?.reason);
      };
      const come = () => {
        signal?.removeEventListener('abort', giveUp);
        resolve();
      };
      waiting.push(come);
      signal?.addEventListener('abort', giveUp, { once: true });
    });
    return onceOnly();
  };
}
