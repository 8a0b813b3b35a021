/** Lots that wait for each other: the next is handed on when the one before is through. */
export interface Pace {
  /** Resolves when the lot is through, or after a while in which nobody said so. */
  through(lot: number): Promise<void>;
  release(lot: unknown): void;
}

/** A lot of recordings takes minutes at most; should its end be lost, the next goes on all the same. */
const PATIENCE_MS = 10 * 60 * 1000;

export function makePace(): Pace {
  let waiting: { lot: number; done(): void } | undefined;
  return {
    through: (lot) =>
      new Promise((resolve) => {
        const timer = setTimeout(resolve, PATIENCE_MS);
        waiting = {
          lot,
          done() {
            clearTimeout(timer);
            resolve();
          },
        };
      }),
    release(lot) {
      if (waiting && (lot === waiting.lot || lot === true)) waiting.done();
    },
  };
}
