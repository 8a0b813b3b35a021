import type { Equaliser, HighPass, UnitSpec } from './rigSpec';

/** Level in dB and phase in degrees of a linear stage at one frequency. */
export interface Gain {
  db: number;
  deg: number;
}

/**
 * Response of the unit without any limit, in one position of its switch.
 *
 * @param unit the loudspeaker. @param equaliser what the switch adds.
 * @param hz frequency, Hz.
 * @returns level in dB re the pass band of the unit with a flat switch, and phase in degrees (exp(+jwt)).
 *
 * Notes: closed forms of analogue filters; s is normalised to each corner, so s = j f/f0.
 *
 * Reference: R. H. Small, Closed-Box Loudspeaker Systems, J. Audio Eng. Soc. 20 (1972), second-order high-pass;
 * S. Butterworth, Experimental Wireless 7 (1930) 536-541.
 *
 * @example
 * const unit = { device: 'a', highPass: [{ f0Hz: 30, q: Math.SQRT1_2 }], lowPass: { hz: 1e6, order: 2 }, sensitivityDb: 80 };
 * unitResponse(unit, { kind: 'flat' }, 30).db // -3.01
 */
export function unitResponse(unit: UnitSpec, equaliser: Equaliser, hz: number): Gain {
  return sum([
    ...unit.highPass.map((section) => highPass(section, hz)),
    ...lowPass(unit.lowPass, hz),
    equalise(equaliser, hz),
  ]);
}

function sum(stages: Gain[]): Gain {
  return stages.reduce((all, stage) => ({ db: all.db + stage.db, deg: all.deg + stage.deg }), { db: 0, deg: 0 });
}

/** Response of the switch alone. */
export function equalise(equaliser: Equaliser, hz: number): Gain {
  if (equaliser.kind === 'flat') return { db: 0, deg: 0 };
  if (equaliser.kind === 'high-pass') return highPass(equaliser, hz);
  if (equaliser.kind === 'chain') return sum(equaliser.stages.map((stage) => equalise(stage, hz)));
  const x = hz / equaliser.hz;
  const a = 10 ** (equaliser.gainDb / 40);
  if (equaliser.order === 1) return ratio([a, x], [1 / a, x]);
  const width = (Math.sqrt(a) * x) / (equaliser.q ?? Math.SQRT1_2);
  const shelf = ratio([a - x * x, width], [1 - a * x * x, width]);
  return { db: shelf.db + equaliser.gainDb / 2, deg: shelf.deg };
}

function highPass({ f0Hz, q }: HighPass, hz: number): Gain {
  const x = hz / f0Hz;
  return ratio([-x * x, 0], [1 - x * x, x / q]);
}

function lowPass({ hz: corner, order }: UnitSpec['lowPass'], hz: number): Gain[] {
  const x = hz / corner;
  const qualities = order === 2 ? [Math.SQRT1_2] : [1 / (2 * Math.cos(Math.PI / 8)), 1 / (2 * Math.sin(Math.PI / 8))];
  return qualities.map((q) => ratio([1, 0], [1 - x * x, x / q]));
}

function ratio([a, b]: [number, number], [c, d]: [number, number]): Gain {
  return {
    db: 10 * Math.log10((a * a + b * b) / (c * c + d * d)),
    deg: ((Math.atan2(b, a) - Math.atan2(d, c)) * 180) / Math.PI,
  };
}
