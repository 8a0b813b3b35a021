import type { CaptureQuality } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { TRUSTED_SNR_DB } from '../../response/caveatsFor';
import type { ReportWords } from '../../words/reportWords';
import type { DrawnLine } from '../charts/drawnLine';
import { bandEdges } from '../charts/heatMap';
import { levelRange } from '../charts/levelRange';
import { linesChart } from '../charts/linesChart';
import { nameOfRun } from '../session';
import type { Figure } from './figure';

/** How far each capture stands above its noise, band by band, with hum marked and what is bad dashed. */
export function captureFigure(captures: CaptureQuality[], words: ReportWords): Figure | undefined {
  const { captures: told } = words.figure;
  const lines = captures.map(
    (one): DrawnLine => ({
      label: nameOf(one, captures, words),
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
    text: told.text(captures.map((one, k) => told.capture(lines[k].label, one.verdict, one.clippedSamples))),
    build: linesChart({
      lines,
      isRising: lines.length > 6,
      title: ({ chart }) => chart.snrAxis,
      rule: { value: TRUSTED_SNR_DB, text: ({ chart }) => chart.trustedFrom(TRUSTED_SNR_DB) },
      marks: {
        hz: [...new Set(captures.flatMap(({ humHz }) => humHz.map(({ frequencyHz }) => frequencyHz)))],
        text: ({ chart }) => chart.hum,
      },
      rangeHz: bandEdges(bands, [10, 200]),
      level: levelRange([...lines.flatMap(({ points }) => points.map(({ value }) => value)), 0, 30], {
        mostDb: 100,
        stepsDb: [5, 10, 20],
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

/** As its run, with what speaks against it. */
function nameOf(capture: CaptureQuality, all: CaptureQuality[], words: ReportWords): string {
  const isAlone = all.filter(({ about }) => about.driveDb === capture.about.driveDb).length === 1;
  const name = nameOfRun(isAlone ? capture : { ...capture, about: {} }, words);
  return words.figure.captures.name(name, capture.verdict);
}
