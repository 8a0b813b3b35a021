import type { Caveat } from '../../model/caveat';
import type { Curve } from '../../model/curve';
import type { Exposure } from '../../model/findings';
import { permittedSeconds } from '../../signal/exposure';
import { makeCaveat } from '../../words/makeCaveat';
import { makeRefusal } from '../../words/makeRefusal';
import { type RunLevels, runLevels } from './runLevels';

/** What is known of how loud it was. */
export interface ExposureOptions {
  /** A-weighted level at the ear as somebody read it from a meter, dB re 20 uPa. */
  levelDba?: number;
  /** Responses out of sweeps; those in dB SPL count. */
  curves?: Curve[];
  /** How long the measuring takes in a day, s. */
  measuredSeconds?: number;
}

/**
 * Say how loud measuring is at the ear, and how long a day it may last.
 *
 * @param options the level at the ear, or responses in SPL to read it from; seconds of measuring. A level that was said
 * goes before one that was read.
 * @returns levels, permitted seconds a day by NIOSH 98-126, and what to beware of; nulls where no level is known.
 * @throws BassloomError `exposure-level`, `exposure-time` where a number is none.
 *
 * Notes: an exponential sweep spends equal time in each octave, so the level that counts is the mean of the weighted
 * power over the logarithm of frequency, over the range of the response; the 3 dB exchange rate is the rule of equal
 * energy, for which that mean is exact. Of several runs the loudest by A-weighting counts. Its loudest moments, A and
 * C-weighted, are given beside it. The levels are those at the microphone while the sweep sounds; silences in between
 * would lower them and are left out.
 *
 * Reference: NIOSH publication 98-126 (1998), 1.1; weightings by IEC 61672-1:2013.
 *
 * @example
 * estimateExposure({ levelDba: 94 }).permittedSeconds // 3600
 */
export function estimateExposure(options: ExposureOptions = {}): Exposure {
  const { curves = [], measuredSeconds } = options;
  const said = options.levelDba;
  if (said !== undefined && !Number.isFinite(said)) {
    throw makeRefusal('exposure-level', { level: said }, { field: 'levelDba' });
  }
  if (measuredSeconds !== undefined && !(measuredSeconds >= 0 && Number.isFinite(measuredSeconds))) {
    throw makeRefusal('exposure-time', { seconds: measuredSeconds }, { field: 'measuredSeconds' });
  }
  const runs = curves.filter(({ scale, role }) => scale === 'spl' && role === 'response').map(runLevels);
  const loudest = runs.length > 0 ? runs.reduce((a, b) => (b.levelDba > a.levelDba ? b : a)) : undefined;
  const levelDba = said ?? loudest?.levelDba ?? null;
  const permitted = levelDba === null ? null : permittedSeconds(levelDba);
  return {
    levelDba,
    levelDbc: loudest?.levelDbc ?? null,
    ...(loudest && { loudestDba: loudest.loudestDba, loudestDbc: loudest.loudestDbc }),
    from: {
      dba: said !== undefined ? 'stated' : loudest ? 'sweep' : null,
      dbc: loudest ? 'sweep' : null,
      run: loudest?.label ?? null,
      runs: runs.length,
    },
    permittedSeconds: permitted,
    measuredSeconds: measuredSeconds ?? null,
    caveats: [
      ...levelCaveats(said, loudest, curves.length),
      ...(permitted !== null && measuredSeconds !== undefined && measuredSeconds > permitted
        ? [makeCaveat('exposure-over', 'doubt', {})]
        : []),
      makeCaveat('exposure-low-bass', 'remark', {}),
      makeCaveat('exposure-rules', 'remark', {}),
    ],
  };
}

/** What is not known of the level at the ear. @param curves how many were given, whatever their scale. */
function levelCaveats(said: number | undefined, loudest: RunLevels | undefined, curves: number): Caveat[] {
  if (said !== undefined) return [];
  if (!loudest) return [makeCaveat(curves > 0 ? 'exposure-not-calibrated' : 'exposure-unknown', 'remark', {})];
  const [lowHz, highHz] = loudest.rangeHz;
  return [
    makeCaveat('exposure-at-microphone', 'remark', { lowHz, highHz }),
    makeCaveat('exposure-sweeps-only', 'remark', {}),
  ];
}
