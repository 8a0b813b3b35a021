import type { EChartsOption } from 'echarts';
import { isAtLeast, outputPlace, peakIn } from '../../analysis/conclusions/outputPlace';
import type { Interval } from '../../model/curve';
import type { MaximumOutput } from '../../model/findings';
import { endLabelMargin } from './drawnLine';
import { type Frame, frameOption, makeFrame } from './frame';
import type { Layout } from './layout';
import type { LevelRange } from './levelRange';
import { discMark, type Mark } from './marks';
import { NUMBER_ROW, type NumberRow, numberRowMarks, rowStyle } from './numberRows';
import type { ChartBuilder } from './renderSvg';
import { stopKey, stopMark } from './stopMarks';

export interface OutputChartParts {
  output: MaximumOutput;
  rangeHz: Interval;
  level: LevelRange;
}

type Centre = MaximumOutput['centres'][number];
type LevelOf = (centre: Centre) => number | null;

/** Greatest clean level per centre: peak with a mark that tells what stopped it, and rms where it was brought to 2 m; the numbers below the axis. */
export function outputChart(parts: OutputChartParts): ChartBuilder {
  return (layout, palette) => {
    const { chart } = layout.words;
    const { centres, scale } = parts.output;
    const shape = outputPlace(parts.output);
    const peak: LevelOf = (centre) => peakIn(centre, shape);
    const levels: { name: string; of: LevelOf }[] = shape.isConverted
      ? [
          { name: chart.peakAt1m, of: peak },
          { name: chart.rmsAt2m, of: ({ rmsAt2mDb }) => rmsAt2mDb },
        ]
      : [{ name: chart.peakAtMicrophone, of: peak }];
    const row = layout.fontSize * NUMBER_ROW;
    const rows = levels.length + (tellsStops(layout) ? 1 : 0);
    const names = [...levels.map(({ name }) => name), ...(tellsStops(layout) ? [chart.stoppedBy] : [])];
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: chart.levelAxis(scale),
      key: stopKey(
        centres.filter((centre) => peak(centre) !== null).map(({ stoppedBy }) => stoppedBy),
        palette,
        layout.words,
      ),
      marginRight: endLabelMargin(names, layout.fontSize, layout.width / 4),
      marginBottom: row * (rows + 0.6),
      height: layout.height + Math.round(row * rows),
    });
    const option: EChartsOption = {
      ...frameOption(frame),
      series: levels.map(({ of }, k) => line(frame, centres, of, k)) as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...centres.flatMap((centre) => levels.flatMap(({ of }, k) => levelMark(frame, centre, of(centre), k))),
          ...numberRowMarks(frame, [
            ...levels.map(({ name, of }, k) => ({ name, ...rowStyle(frame, k), texts: numbers(frame, centres, of) })),
            ...(tellsStops(layout) ? [stopRow(frame, centres)] : []),
          ]),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

/** Only between neighbours that something of the unit stopped: 'at least' is no point of a curve. */
function line(frame: Frame, centres: Centre[], of: LevelOf, k: number): object {
  const { colour, dash } = rowStyle(frame, k);
  return {
    type: 'line',
    silent: true,
    showSymbol: false,
    clip: true,
    emphasis: { disabled: true },
    data: centres.map((centre) => [centre.centreHz, (isAtLeast(centre) ? null : of(centre)) ?? '-']),
    lineStyle: { color: colour, width: 1.5, type: dash ?? 'solid' },
  };
}

function levelMark(frame: Frame, centre: Centre, level: number | null, k: number): Mark[] {
  if (level === null) return [];
  const [x, y] = [frame.x(centre.centreHz), frame.y(level)];
  const style = { colour: rowStyle(frame, k).colour, paper: frame.palette.paper };
  return k === 0 ? stopMark(centre.stoppedBy, x, y, style) : [discMark(x, y, 2.5, style)];
}

/** Words have no room under the centres of a narrow drawing: there the marks alone tell. */
function tellsStops({ name }: Layout): boolean {
  return name === 'wide';
}

function numbers({ layout }: Frame, centres: Centre[], of: LevelOf): NumberRow['texts'] {
  return centres.map((centre) => {
    const level = of(centre);
    const digits = level === null ? '–' : layout.words.say.number(level, layout.name === 'wide' ? 1 : 0);
    return { hz: centre.centreHz, text: level === null || centre.trusted ? digits : `(${digits})` };
  });
}

/** What stopped each centre in few letters: the harmonic's order where it was one. */
function stopRow({ layout, palette }: Frame, centres: Centre[]): NumberRow {
  const { chart } = layout.words;
  return {
    name: chart.stoppedBy,
    colour: palette.muted,
    bare: true,
    texts: centres.map(({ centreHz, stoppedBy, harmonic }) => ({
      hz: centreHz,
      text: stoppedBy === 'distortion' && harmonic ? chart.shortHarmonic(harmonic.order) : chart.shortStops[stoppedBy],
    })),
  };
}
