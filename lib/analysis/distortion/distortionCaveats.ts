import type { Caveat } from '../../model/caveat';
import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import { makeCaveat } from '../../words/makeCaveat';
import type { DistortionRung } from './collectTakes';
import type { DistortionCell } from './distortionCells';
import type { Doubt } from './doubtCells';
import type { Pass } from './findPass';

/**
 * Say what speaks against THD: orders that are missing, noise that is unknown or hides it, cells that nothing bears out,
 * a ladder that begins too high.
 *
 * @param cells [rung][band]. @param thdOrders orders summed up. @param passes by percentage, one for each band.
 *
 * Notes: THD below the noise in the quiet runs is as it should be; it is a doubt where also the loudest run that reaches
 * the band does not show it.
 */
export function distortionCaveats(
  rungs: DistortionRung[],
  bandsHz: number[],
  cells: DistortionCell[][],
  thdOrders: number[],
  passes: { percent: number; bands: Pass[] }[],
  doubts: Doubt[],
): Caveat[] {
  const bandsOf = (test: (band: number) => boolean): number[] => bandsHz.filter((_, band) => test(band));
  const some = (test: (cell: DistortionCell) => boolean) => bandsOf((band) => cells.some((row) => test(row[band])));
  const isUnknown = (cell: DistortionCell) => Number.isNaN(cell.noise) && !Number.isNaN(cell.thd);
  const isHidden = (band: number): boolean => {
    const reaching = cells.map((row) => row[band]).filter(({ reached }) => reached);
    return (
      reaching.length > 0 && !isUnknown(reaching[reaching.length - 1]) && reaching.every(({ trusted }) => !trusted)
    );
  };
  const doubtful = new Set(doubts.map(({ band }) => band));
  const absent = [2, 3, 4, 5].filter((order) => !thdOrders.includes(order));
  const incomplete = some((cell) => cell.missing.length > 0 && !Number.isNaN(cell.thd));
  const unreached = some((cell) => !cell.reached);
  const unknown = some(isUnknown);
  const hidden = bandsOf((band) => isHidden(band) && !doubtful.has(band));
  return [
    ...(absent.length > 0 ? [makeCaveat('thd-orders-missing', 'remark', { orders: absent.join(' ') })] : []),
    ...(incomplete.length > 0 ? [makeCaveat('thd-orders-incomplete', 'doubt', {}, { bandsHz: incomplete })] : []),
    ...(unreached.length > 0 ? [makeCaveat('thd-band-not-reached', 'remark', {}, { bandsHz: unreached })] : []),
    ...(unknown.length > 0 ? [makeCaveat('thd-noise-unknown', 'doubt', {}, { bandsHz: unknown })] : []),
    ...(hidden.length > 0
      ? [makeCaveat('thd-near-noise', 'remark', { snrDb: TRUSTED_SNR_DB }, { bandsHz: hidden })]
      : []),
    ...outliers(rungs, bandsHz, doubts),
    ...passes.flatMap(({ percent, bands }) => {
      const bandsFrom = bandsOf((band) => bands[band].fromStart);
      return bandsFrom.length > 0
        ? [makeCaveat('thd-passed-from-start', 'remark', { percent }, { bandsHz: bandsFrom })]
        : [];
    }),
  ];
}

/** One caveat for each run. */
function outliers(rungs: DistortionRung[], bandsHz: number[], doubts: Doubt[]): Caveat[] {
  return rungs.flatMap(({ curve, driveDb }, rung) => {
    const own = doubts.filter((one) => one.rung === rung);
    if (own.length === 0) return [];
    const worst = own.reduce((a, b) => (b.thd / b.expected > a.thd / a.expected ? b : a));
    const values = { percent: 100 * Math.sqrt(worst.thd), expectedPercent: 100 * Math.sqrt(worst.expected) };
    const where = { curve, driveDb: [driveDb], bandsHz: own.map(({ band }) => bandsHz[band]) };
    return [makeCaveat('thd-outlier', 'doubt', values, where)];
  });
}
