import type { BandTruth } from './bandTruth';

/** What the definitions of the ladder give when they are applied to one band's true levels. */
export interface CompressionTruth {
  /** Lowest rung with at least 20 dB signal-to-noise, or the one asked for; null where there is none. */
  referenceRung: number | null;
  /** By rung, positive is lost; null below the reference rung. */
  compressionDb: (number | null)[];
  /** By rung: against the unit without limits, whatever the reference rung has lost already. */
  lossDb: number[];
  /** Highest level of all rungs. */
  ceilingDb: number;
  /** Gain of the last rung as a share of the step: below one half the ceiling is reached. */
  lastShare: number;
}

/**
 * Apply the definitions of the compression ladder to the true levels of one band.
 *
 * @param bands true levels of a setting. @param band index of the band.
 * @param options.referenceRung count from this rung. @param options.stepDb count with this step, dB; default the true one.
 *
 * @example
 * compressionTruth(bandTruth(drawRig(1))[0], 3).compressionDb
 */
export function compressionTruth(
  bands: BandTruth,
  band: number,
  options: { referenceRung?: number | null; stepDb?: number } = {},
): CompressionTruth {
  const levels = bands.levelDb.map((row) => row[band]);
  const trueStep = bands.driveDb.length > 1 ? bands.driveDb[1] : 0;
  const stepDb = options.stepDb ?? trueStep;
  const found = bands.snrDb.findIndex((row) => row[band] >= 20);
  const reference = options.referenceRung ?? (found < 0 ? null : found);
  const last = levels.length - 1;
  return {
    referenceRung: reference,
    compressionDb: levels.map((level, rung) =>
      reference === null || rung < reference ? null : levels[reference] + (rung - reference) * stepDb - level,
    ),
    lossDb: levels.map((level, rung) => bands.linearDb[rung][band] - level),
    ceilingDb: Math.max(...levels),
    lastShare: last > 0 ? (levels[last] - levels[last - 1]) / trueStep : 1,
  };
}

/** Where a compression is first reached. */
export interface OnsetTruth {
  /** Above the lowest rung, dB. */
  driveDb: number;
  /** dB of compression per dB of drive between the two rungs around it. */
  slope: number;
}

/**
 * Find the drive at which straight lines between rungs first reach a compression.
 *
 * @param compressionDb by rung, null where unknown. @param stepDb between rungs. @param wantedDb compression.
 * @returns null where it is never reached.
 *
 * @example
 * onsetTruth([0, 0, 2], 3, 1) // { driveDb: 4.5, slope: 0.667 }
 */
export function onsetTruth(compressionDb: (number | null)[], stepDb: number, wantedDb: number): OnsetTruth | null {
  for (let rung = 1; rung < compressionDb.length; rung++) {
    const below = compressionDb[rung - 1];
    const above = compressionDb[rung];
    if (below === null || above === null || !(below < wantedDb && above >= wantedDb)) continue;
    const part = (wantedDb - below) / (above - below);
    return { driveDb: (rung - 1 + part) * stepDb, slope: (above - below) / stepDb };
  }
  return null;
}
