import type { Gain } from '../unitResponse';

export type Complex = [re: number, im: number];

/** Value of a gain in dB and degrees. */
export function complexOf({ db, deg }: Gain): Complex {
  const size = 10 ** (db / 20);
  const angle = (deg * Math.PI) / 180;
  return [size * Math.cos(angle), size * Math.sin(angle)];
}

/** Gains one after the other. */
export function inRow(...gains: Gain[]): Gain {
  return gains.reduce((all, gain) => ({ db: all.db + gain.db, deg: all.deg + gain.deg }));
}

/** Gain in dB and degrees of a value. */
export function gainOf([re, im]: Complex): Gain {
  return { db: 10 * Math.log10(re * re + im * im), deg: (Math.atan2(im, re) * 180) / Math.PI };
}
