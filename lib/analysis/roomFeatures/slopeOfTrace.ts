import type { RoomTrace } from './roomTrace';

/**
 * Slope of a response over two octaves around each point, and the response with that slope taken out.
 *
 * @param trace smoothed response.
 * @returns dB per octave, and levels in dB that keep narrow dips but no roll-off.
 *
 * Notes: difference of the means over the octave above and the octave below, over the distance of their middles;
 * near an end the side that is cut short is shorter. What is taken out is the integral of the slope.
 */
export function levelled({ octave, levelDb }: RoomTrace): { slope: Float64Array; levelDb: Float64Array } {
  const last = octave.length - 1;
  const area = new Float64Array(last + 1);
  for (let i = 1; i <= last; i++) {
    area[i] = area[i - 1] + 0.5 * (levelDb[i] + levelDb[i - 1]) * (octave[i] - octave[i - 1]);
  }
  const slope = new Float64Array(last + 1);
  let low = 0;
  let high = 0;
  for (let i = 0; i <= last; i++) {
    while (octave[low] < octave[i] - 1) low++;
    while (high < last && octave[high + 1] <= octave[i] + 1) high++;
    const above = octave[high] - octave[i];
    const below = octave[i] - octave[low];
    const aboveDb = above > 0 ? (area[high] - area[i]) / above : levelDb[i];
    const belowDb = below > 0 ? (area[i] - area[low]) / below : levelDb[i];
    slope[i] = (aboveDb - belowDb) / (0.5 * (above + below));
  }
  const flat = new Float64Array(last + 1);
  let taken = 0;
  for (let i = 0; i <= last; i++) {
    if (i > 0) taken += 0.5 * (slope[i] + slope[i - 1]) * (octave[i] - octave[i - 1]);
    flat[i] = levelDb[i] - taken;
  }
  return { slope, levelDb: flat };
}
