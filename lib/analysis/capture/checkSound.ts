import type { Caveat } from '../../model/caveat';
import { makeCaveat } from '../../words/makeCaveat';
import type { Extremes } from './extremes';
import { findBandLimit } from './findBandLimit';
import { findDropouts } from './findDropouts';
import { findPlateau } from './findPlateau';
import { hasCoderHoles } from './hasCoderHoles';
import type { Samples } from './standingAt';

/** More places where samples are missing than that, and little of the sweep is left as it was. */
const MANY_DROPOUTS = 5;

/**
 * What is wrong with the sound itself, whatever was played: samples lost, tops cut off ahead of the converter, a lossy
 * coder.
 *
 * @param samples one channel. @param extremes of it.
 * @param hasClipped whether clipping at a rail is known already.
 */
export function checkSound(
  samples: Samples,
  sampleRateHz: number,
  { highest, lowest, smallest }: Pick<Extremes, 'highest' | 'lowest' | 'smallest'>,
  hasClipped: boolean,
): Caveat[] {
  const caveats: Caveat[] = [];
  const { gaps, areSilent, jumps, atIndex } = findDropouts(samples, sampleRateHz, smallest, Math.max(highest, -lowest));
  const atS = atIndex / sampleRateHz;
  const severity = gaps + jumps > MANY_DROPOUTS ? 'warning' : 'doubt';
  if (gaps > 0) {
    caveats.push(makeCaveat('capture-gaps', severity, { gaps, atS, kind: areSilent ? 'silent' : 'held' }));
  } else if (jumps > 0) caveats.push(makeCaveat('capture-jumps', severity, { jumps, atS }));
  const plateaus = hasClipped ? [] : [findPlateau(samples, 1, highest), findPlateau(samples, -1, -lowest)];
  const [cut] = plateaus.filter((one) => one !== null).sort((a, b) => b.halfWaves - a.halfWaves);
  if (cut) {
    caveats.push(
      makeCaveat('capture-overloaded', 'doubt', {
        plateauDbfs: 20 * Math.log10(Math.abs(cut.level)),
        halfWaves: cut.halfWaves,
        atS: cut.atIndex / sampleRateHz,
      }),
    );
  }
  const fromHz = findBandLimit(samples, sampleRateHz);
  if (fromHz !== null) {
    const isCoded = hasCoderHoles(samples, sampleRateHz, fromHz);
    caveats.push(
      makeCaveat(isCoded ? 'capture-coded' : 'capture-band-limited', isCoded ? 'doubt' : 'remark', { fromHz }),
    );
  }
  return caveats;
}
