import { isAtLeast, type OutputPlace, outputPlace, peakIn } from '../../analysis/conclusions/outputPlace';
import type { MaximumOutput } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import type { ReportWords } from '../../words/reportWords';
import { bandEdges } from '../charts/heatMap';
import { levelRange } from '../charts/levelRange';
import { outputChart } from '../charts/outputChart';
import type { DataTable } from '../html/dataTable';
import { plainName } from '../text';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

/** Greatest clean output in short bursts, centre by centre. */
export function outputFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const output = view.maximumOutput;
  if (!output || output.centres.length === 0) return undefined;
  const { words } = drawn.session;
  const told = words.figure.output;
  const shape = outputPlace(output);
  const { centres } = output;
  if (levelsOf(output).length === 0) return undefined;
  // one axis for all settings, so that they compare
  const levels = drawn.settings.flatMap(({ view: { maximumOutput } }) =>
    maximumOutput ? levelsOf(maximumOutput) : [],
  );
  const where = outputPlaceWords(shape, words);
  return {
    id: `fig-output-${index}`,
    kind: 'output',
    title: told.title(view.name),
    caption: told.caption(where),
    text: told.text(
      where,
      centres.map((centre) => {
        const [peak, hz] = [peakIn(centre, shape), nominalHz(centre.centreHz)];
        return peak === null ? told.none(hz) : told.level(peak, hz, isAtLeast(centre));
      }),
    ),
    build: outputChart({
      output,
      rangeHz: bandEdges(
        centres.map(({ centreHz }) => centreHz),
        drawn.rangeHz,
      ),
      level: levelRange(levels),
    }),
    table: outputTable(output, shape, view.name, words),
  };
}

function levelsOf(output: MaximumOutput): number[] {
  const place = outputPlace(output);
  return output.centres
    .flatMap((centre) => [peakIn(centre, place), place.isConverted ? centre.rmsAt2mDb : null])
    .filter((one) => one !== null);
}

/** What the levels are and what they rest on. */
function outputPlaceWords({ isConverted, metres, place }: OutputPlace, { figure, say }: ReportWords): string {
  const { output } = figure;
  if (!isConverted) return output.atMicrophone;
  return output.converted(
    metres.length > 0 ? say.list(metres.map(say.metres)) : output.unknownDistance,
    output.places[place],
  );
}

/** 'low bass (20–31.5 Hz)'. */
export function averageName({ name, centresHz }: MaximumOutput['averages'][number], { figure }: ReportWords): string {
  const nominal = centresHz.map(nominalHz);
  const [low, high] = nominal.length > 0 ? [Math.min(...nominal), Math.max(...nominal)] : [null, null];
  return figure.output.averageName(plainName(name), low, high);
}

function outputTable(output: MaximumOutput, shape: OutputPlace, name: string, words: ReportWords): DataTable {
  const { figure } = words;
  const told = figure.output;
  const { isConverted } = shape;
  const levels = (one: MaximumOutput['centres'][number] | MaximumOutput['averages'][number]) =>
    isConverted ? [peakIn(one, shape), one.rmsAt2mDb] : [peakIn(one, shape)];
  return {
    caption: told.tableCaption(name),
    head: [told.headCentre, ...(isConverted ? [told.headPeak, told.headRms] : [told.headMicrophone]), ...told.headRest],
    rows: [
      ...output.centres.map((centre) => [
        String(nominalHz(centre.centreHz)),
        ...levels(centre),
        stopWords(centre, words),
        centre.driveDb,
        centre.trusted ? figure.yes : figure.no,
      ]),
      ...output.averages.map((one) => [figure.average(averageName(one, words)), ...levels(one), '–', null, '–']),
    ],
  };
}

/** What stopped one centre, with the harmonic that passed its limit. */
function stopWords(
  { stoppedBy, harmonic, driveDb }: MaximumOutput['centres'][number],
  { figure }: ReportWords,
): string {
  const { output } = figure;
  if (stoppedBy === 'schedule' && driveDb === null) return output.scheduleNone;
  if (stoppedBy !== 'distortion' || !harmonic) return output.stops[stoppedBy];
  return output.harmonic(harmonic.order, harmonic.levelDb, harmonic.limitDb);
}
