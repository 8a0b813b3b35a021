import type { Equaliser } from './rigSpec';
import { equalise } from './unitResponse';

/** What one switch position does against another, from closed forms. */
export interface SettingTruth {
  a: string;
  b: string;
  /** Where a - b is half of its low-frequency asymptote; null where it has none. */
  hingeHz: number | null;
  asymptoteDb: number | null;
  at: { frequencyHz: number; differenceDb: number }[];
}

/** True difference a - b of two switch positions at a frequency, dB, in the unit's linear range. */
export function settingDifferenceDb(a: Equaliser, b: Equaliser, hz: number): number {
  return equalise(a, hz).db - equalise(b, hz).db;
}

/**
 * Reckon the true difference of two settings.
 *
 * @param a one position with its name. @param b the one to compare it to. @param atHz where to give values, Hz.
 *
 * @example
 * settingTruth({ name: 'lifted', equaliser: { kind: 'shelf', hz: 24, gainDb: 6, order: 2 } }, { name: 'flat', equaliser: { kind: 'flat' } });
 */
export function settingTruth(
  a: { name: string; equaliser: Equaliser },
  b: { name: string; equaliser: Equaliser },
  atHz: number[] = [10, 16, 20, 31.5],
): SettingTruth {
  const difference = (hz: number) => settingDifferenceDb(a.equaliser, b.equaliser, hz);
  const endless = isEndless(a.equaliser) || isEndless(b.equaliser);
  const asymptoteDb = endless ? null : gainOf(a.equaliser) - gainOf(b.equaliser);
  return {
    a: a.name,
    b: b.name,
    asymptoteDb,
    hingeHz: asymptoteDb === null || asymptoteDb === 0 ? null : crossing(difference, asymptoteDb / 2, 0.1, 2000),
    at: atHz.map((frequencyHz) => ({ frequencyHz, differenceDb: difference(frequencyHz) })),
  };
}

/**
 * Where the difference of two settings is half of what it is at a low frequency: the hinge of a difference
 * that has no asymptote, or whose asymptote is out of sight.
 *
 * @returns Hz.
 *
 * @example
 * hingeBelow({ kind: 'high-pass', f0Hz: 20, q: 0.7 }, { kind: 'flat' }, 8)
 */
export function hingeBelow(a: Equaliser, b: Equaliser, lowHz: number): number {
  const difference = (hz: number) => settingDifferenceDb(a, b, hz);
  return crossing(difference, difference(lowHz) / 2, lowHz, 2000);
}

function gainOf(equaliser: Equaliser): number {
  if (equaliser.kind === 'chain') return equaliser.stages.reduce((sum, stage) => sum + gainOf(stage), 0);
  return equaliser.kind === 'shelf' ? equaliser.gainDb : 0;
}

function isEndless(equaliser: Equaliser): boolean {
  return equaliser.kind === 'chain' ? equaliser.stages.some(isEndless) : equaliser.kind === 'high-pass';
}

function crossing(difference: (hz: number) => number, halfDb: number, lowHz: number, highHz: number): number {
  const sign = Math.sign(halfDb);
  for (let i = 0; i < 60; i++) {
    const middle = Math.sqrt(lowHz * highHz);
    if (sign * difference(middle) > sign * halfDb) lowHz = middle;
    else highHz = middle;
  }
  return Math.sqrt(lowHz * highHz);
}
