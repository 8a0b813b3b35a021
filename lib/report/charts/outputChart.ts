import type { EChartsOption } from 'echarts';
import type { Interval } from '../../model/curve';
import type { MaximumOutput } from '../../model/findings';
import { formatNumber } from '../format';
import { peakOf } from '../verdict/outputSentences';
import { endLabelMargin } from './drawnLine';
import { type Frame, frameOption, levelTitle, makeFrame } from './frame';
import type { Layout } from './layout';
import type { LevelRange } from './levelRange';
import { discMark, type Mark } from './marks';
import { NUMBER_ROW, type NumberRow, numberRowMarks, rowStyle } from './numberRows';
import type { ChartBuilder } from './renderSvg';
import { stopKey, stopMark } from './stopMarks';

export interface OutputChartParts {
  output: MaximumOutput;
  /** Names of the levels, short; no rms where levels are those at the microphone. */
  names: { peak: string; rms?: string };
  rangeHz: Interval;
  level: LevelRange;
}

type Centre = MaximumOutput['centres'][number];

/** Greatest clean level per centre: peak with a mark that tells what stopped it, and rms; the numbers below the axis. */
export function outputChart(parts: OutputChartParts): ChartBuilder {
  return (layout, palette) => {
    const { centres, scale } = parts.output;
    const names = [parts.names.peak, ...(parts.names.rms === undefined ? [] : [parts.names.rms]), STOPPED];
    const row = layout.fontSize * NUMBER_ROW;
    const rows = names.length - (tellsStops(layout) ? 0 : 1);
    const frame = makeFrame(layout, palette, {
      rangeHz: parts.rangeHz,
      level: parts.level,
      title: levelTitle(scale),
      key: stopKey(
        centres.filter((centre) => peakOf(centre) !== null).map(({ stoppedBy }) => stoppedBy),
        palette,
      ),
      marginRight: endLabelMargin(names, layout.fontSize, layout.width / 4),
      marginBottom: row * (rows + 0.6),
      height: layout.height + Math.round(row * rows),
    });
    const option: EChartsOption = {
      ...frameOption(frame),
      series: [
        line(frame, centres, peakOf, 0),
        line(frame, centres, ({ rmsAt2mDb }) => rmsAt2mDb, 1),
      ] as EChartsOption['series'],
      graphic: {
        elements: [
          ...frame.marks,
          ...levelMarks(frame, centres),
          ...numberRowMarks(frame, rowsOf(frame, parts)),
        ] as never,
      },
    };
    return { option, height: frame.height };
  };
}

function line(frame: Frame, centres: Centre[], levelOf: (centre: Centre) => number | null, k: number): object {
  const { colour, dash } = rowStyle(frame, k);
  return {
    type: 'line',
    silent: true,
    showSymbol: false,
    clip: true,
    emphasis: { disabled: true },
    data: centres.map((centre) => [centre.centreHz, levelOf(centre) ?? '-']),
    lineStyle: { color: colour, width: 1.5, type: dash ?? 'solid' },
  };
}

function levelMarks(frame: Frame, centres: Centre[]): Mark[] {
  const { paper } = frame.palette;
  return centres.flatMap((centre) => {
    const { centreHz, rmsAt2mDb, stoppedBy } = centre;
    const peak = peakOf(centre);
    return [
      ...(peak === null
        ? []
        : stopMark(stoppedBy, frame.x(centreHz), frame.y(peak), { colour: rowStyle(frame, 0).colour, paper })),
      ...(rmsAt2mDb === null
        ? []
        : [discMark(frame.x(centreHz), frame.y(rmsAt2mDb), 2.5, { colour: rowStyle(frame, 1).colour, paper })]),
    ];
  });
}

const STOPPED = 'stopped by';

/** Words have no room under the centres of a narrow drawing: there the marks alone tell. */
function tellsStops({ name }: Layout): boolean {
  return name === 'wide';
}

function rowsOf(frame: Frame, { output, names }: OutputChartParts): NumberRow[] {
  const decimals = frame.layout.name === 'wide' ? 1 : 0;
  const levels = (of: (centre: Centre) => number | null): NumberRow['texts'] =>
    output.centres.map((centre) => {
      const level = of(centre);
      const digits = level === null ? '–' : formatNumber(level, decimals);
      return { hz: centre.centreHz, text: level === null || centre.trusted ? digits : `(${digits})` };
    });
  const stops = output.centres.map((centre) => ({ hz: centre.centreHz, text: shortStop(centre) }));
  return [
    { name: names.peak, ...rowStyle(frame, 0), texts: levels(peakOf) },
    ...(names.rms === undefined
      ? []
      : [{ name: names.rms, ...rowStyle(frame, 1), texts: levels(({ rmsAt2mDb }) => rmsAt2mDb) }]),
    ...(tellsStops(frame.layout) ? [{ name: STOPPED, colour: frame.palette.muted, bare: true, texts: stops }] : []),
  ];
}

/** What stopped a centre in few letters: the harmonic's order where it was one. */
function shortStop({ stoppedBy, harmonic }: Centre): string {
  if (stoppedBy === 'distortion') return harmonic ? `H${harmonic.order}` : 'dist.';
  return { compression: 'comp.', schedule: 'end', noise: 'noise', clipping: 'clip' }[stoppedBy];
}
