import type { CaptureQuality } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import type { ReportWords } from '../../words/reportWords';
import type { DrawnLine } from '../charts/drawnLine';
import { bandEdges } from '../charts/heatMap';
import { levelRange } from '../charts/levelRange';
import { linesChart } from '../charts/linesChart';
import { plainName } from '../text';
import type { Figure } from './figure';
import { groupLines } from './groupLines';

/** How far each capture stands above its noise, band by band, with hum marked and what is bad dashed. */
export function captureFigure(given: CaptureQuality[], words: ReportWords): Figure | undefined {
  const { captures: told } = words.figure;
  const { items: captures, names, groups } = groupLines(given, words);
  const lines = captures.map(
    (one, k): DrawnLine => ({
      label: told.name(names[k], one.verdict),
      bad: one.verdict === 'bad',
      points: one.snrDb.frequencyHz.flatMap((hz, band) => {
        const value = one.snrDb.db[band];
        return Number.isFinite(value) ? [{ hz, value, trusted: value >= TRUSTED_SNR_DB }] : [];
      }),
    }),
  );
  const bands = lines.flatMap(({ points }) => points.map(({ hz }) => hz));
  if (bands.length === 0) return undefined;
  const hz = [...new Set(bands)].sort((a, b) => a - b);
  return {
    id: 'fig-captures',
    kind: 'captures',
    title: told.title,
    caption: told.caption,
    text: told.text(
      captures.map((one, k) => told.capture(names[k] || plainName(one.label), one.verdict, one.clippedSamples)),
    ),
    build: linesChart({
      lines,
      groups,
      title: ({ chart }) => chart.snrAxis,
      rule: { value: TRUSTED_SNR_DB, text: ({ chart }) => chart.trustedFrom(TRUSTED_SNR_DB) },
      marks: {
        hz: [...new Set(captures.flatMap(({ humHz }) => humHz.map(({ frequencyHz }) => frequencyHz)))],
        text: ({ chart }) => chart.hum,
      },
      rangeHz: hz.length > 1 ? [hz[0], hz[hz.length - 1]] : bandEdges(hz, [10, 200]),
      level: levelRange([...lines.flatMap(({ points }) => points.map(({ value }) => value)), 0, 30], {
        mostDb: 100,
        stepsDb: [5, 10, 20],
        headDb: 0,
      }),
    }),
    table: {
      caption: told.tableCaption,
      head: [words.figure.bandHead, ...lines.map(({ label }) => label)],
      rows: hz.map((band) => [
        String(nominalHz(band)),
        ...lines.map(({ points }) => points.find((point) => point.hz === band)?.value ?? null),
      ]),
    },
  };
}
