import { bandNames } from '../ladder/bandNames';
import type { DistortionCell } from './distortionCells';
import type { Pass } from './findPass';

/**
 * Say what speaks against THD: orders that are missing, noise that is unknown or hides it, a ladder that begins too high.
 *
 * @param cells [rung][band]. @param thdOrders orders summed up. @param passes by percentage, one for each band.
 */
export function distortionCaveats(
  bandsHz: number[],
  cells: DistortionCell[][],
  thdOrders: number[],
  passes: { percent: number; bands: Pass[] }[],
): string[] {
  const say = (test: (band: number) => boolean, sentence: (names: string) => string): string[] => {
    const bands = bandsHz.flatMap((_, band) => (test(band) ? [band] : []));
    return bands.length > 0 ? [sentence(bandNames(bandsHz, bands))] : [];
  };
  const some = (test: (cell: DistortionCell) => boolean) => (band: number) => cells.some((row) => test(row[band]));
  const isUnknown = (cell: DistortionCell) => Number.isNaN(cell.noise) && !Number.isNaN(cell.thd);
  const absent = [2, 3, 4, 5].filter((order) => !thdOrders.includes(order));
  return [
    absent.length > 0 ? [`Harmonics of order ${list(absent)} were not measured in all runs; THD leaves them out.`] : [],
    say(
      some((cell) => cell.missing.length > 0 && !Number.isNaN(cell.thd)),
      (names) => `Not all orders were measured at ${names}; THD there is 'at least'.`,
    ),
    say(
      some((cell) => !cell.reached),
      (names) => `Some rungs do not reach ${names}; nothing is known of them there.`,
    ),
    say(
      some(isUnknown),
      (names) =>
        `How strong the noise is in the harmonics of ${names} is not known; THD there is 'at most' and untrusted.`,
    ),
    say(
      some((cell) => cell.reached && !cell.trusted && !isUnknown(cell)),
      (names) =>
        `In some rungs harmonics or fundamental are less than 10 dB above the noise at ${names}; THD of those rungs is untrusted there.`,
    ),
    ...passes.map(({ percent, bands }) =>
      say(
        (band) => bands[band].fromStart,
        (names) =>
          `At ${names} the lowest rung that tells is above ${percent} % already; drive and level given there are 'at most'.`,
      ),
    ),
  ].flat();
}

function list(orders: number[]): string {
  return orders.length > 1 ? `${orders.slice(0, -1).join(', ')} and ${orders[orders.length - 1]}` : String(orders[0]);
}
