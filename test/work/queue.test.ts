import fc from 'fast-check';
import { expect, test } from 'vitest';
import { enter } from '../../lib/work/queue';

const pause = () => new Promise((resolve) => setTimeout(resolve, 0));

test('never more are in than there are places, all get in, and in the order they came', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: 1, max: 4 }),
      fc.array(fc.boolean(), { maxLength: 30 }),
      async (places, plan) => {
        const come = enter(places);
        const inside: number[] = [];
        const order: number[] = [];
        let most = 0;
        // those planned as true lose patience while they wait
        const all = plan.map(async (loses, i) => {
          const controller = new AbortController();
          const entering = come(controller.signal);
          if (loses) controller.abort('lost patience');
          const leave = await entering.catch((reason) => reason);
          if (typeof leave === 'string') return leave;
          order.push(i);
          inside.push(i);
          most = Math.max(most, inside.length);
          await pause();
          inside.splice(inside.indexOf(i), 1);
          leave();
          leave();
          return 'was in';
        });
        const outcomes = await Promise.all(all);
        expect(most).toBeLessThanOrEqual(places);
        expect(order).toEqual([...order].sort((a, b) => a - b));
        // the first ones find a place before they can lose patience
        expect(outcomes).toEqual(plan.map((loses, i) => (loses && i >= places ? 'lost patience' : 'was in')));
        // every place is free again
        const again = await Promise.all(Array.from({ length: places }, () => come()));
        expect(again).toHaveLength(places);
      },
    ),
    { numRuns: 60 },
  );
});
