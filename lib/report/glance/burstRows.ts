import { isAtLeast, outputPlace, peakIn } from '../../analysis/conclusions/outputPlace';
import type { MaximumOutput } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import type { ReportWords } from '../../words/reportWords';
import { averageName } from '../figures/outputFigure';
import type { SettingView } from '../session';
import { distinct, flagged, type GlanceRow, QUOTED_HZ } from './glanceRow';

/** Name of the group: it tells where levels hold where that is one place for all. */
export function burstGroup(views: SettingView[], { page }: ReportWords): string {
  const { groups } = page.glanceTable;
  const isConverted = views.some(({ maximumOutput }) => maximumOutput && outputPlace(maximumOutput).isConverted);
  return isConverted ? groups.bursts : groups.burstsAtMicrophone;
}

/** How loud bursts went: means of some centres, and the lowest that is quoted. */
export function burstRows(views: SettingView[], words: ReportWords): GlanceRow[] {
  const { glanceTable: told } = words.page;
  const isTold = burstGroup(views, words) === told.groups.burstsAtMicrophone;
  const names = distinct(
    views.flatMap(({ maximumOutput }) => maximumOutput?.averages.map((one) => averageName(one, words)) ?? []),
  );
  const cell = (
    output: MaximumOutput,
    levels: MaximumOutput['averages'][number] | MaximumOutput['centres'][number],
    atLeast: boolean,
  ): string | null => {
    const place = outputPlace(output);
    const peak = peakIn(levels, place);
    if (peak === null) return null;
    if (place.isConverted)
      return told.converted(peak, levels.rmsAt2mDb, atLeast, place.metres, words.figure.output.places[place.place]);
    return isTold ? told.level(peak, atLeast) : told.atMicrophone(peak, atLeast);
  };
  return [
    ...names.map(
      (name): GlanceRow => [
        name,
        ({ maximumOutput: output }) => {
          const average = output?.averages.find((one) => averageName(one, words) === name);
          if (!output || !average) return null;
          const text = cell(output, average, average.atLeast);
          return text === null ? told.centreMissing : flagged(text, output, words);
        },
      ],
    ),
    [
      told.band(QUOTED_HZ[0]),
      ({ maximumOutput: output }) => {
        const centre = output?.centres.find(({ centreHz }) => nominalHz(centreHz) === QUOTED_HZ[0]);
        if (!output || !centre) return null;
        const text = cell(output, centre, isAtLeast(centre));
        if (text === null) return told.noneBurst;
        return centre.trusted ? text : told.untrusted(text);
      },
    ],
  ];
}
