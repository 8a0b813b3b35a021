import type { RoomFeature } from '../../model/findings';
import type { Frame } from './frame';
import { textWidth } from './layout';
import { lineMark, type Mark, rectMark, textMark } from './marks';
import { stackLabels } from './stackLabels';

/** Room above the plot for the names of dips, in letter heights. */
export const DIP_NAMES = 1.9;

/** A stretch to be shaded, and the frequency it is named by. */
export type Dip = Pick<RoomFeature, 'frequencyHz' | 'maskHz' | 'prominenceDb'>;

/** Shades dips and writes their frequencies above the plot, the deepest first where not all have room. */
export function dipMarks(frame: Frame, dips: Dip[]): Mark[] {
  const { palette, layout } = frame;
  const gap = textWidth('88.8', layout.fontSize) + 7;
  const most = Math.floor((frame.right - frame.left) / gap);
  const named = [...dips]
    .sort((a, b) => b.prominenceDb - a.prominenceDb)
    .slice(0, most)
    .sort((a, b) => a.frequencyHz - b.frequencyHz);
  const at = stackLabels(
    named.map((dip) => frame.x(dip.frequencyHz)),
    gap,
    frame.left + gap / 2,
    frame.right - gap / 2,
  );
  return [
    ...dips.map((dip) =>
      rectMark([xInside(frame, dip.maskHz[0]), xInside(frame, dip.maskHz[1])], [frame.top, frame.bottom], {
        fill: palette.dip,
      }),
    ),
    ...named.map((dip, k) =>
      lineMark(
        [
          [at[k], frame.top - layout.fontSize * 0.85],
          [frame.x(dip.frequencyHz), frame.top],
        ],
        { stroke: palette.axis },
      ),
    ),
    ...named.map((dip, k) =>
      textMark(layout.words.say.hertz(dip.frequencyHz), at[k], frame.top - layout.fontSize * 1.45, {
        fill: palette.muted,
        fontSize: layout.fontSize,
        anchor: 'center',
      }),
    ),
  ];
}

/** Where a frequency lies, px; one outside the plot lies at its edge. */
export function xInside(frame: Frame, hz: number): number {
  return frame.x(Math.min(Math.max(hz, frame.rangeHz[0]), frame.rangeHz[1]));
}
