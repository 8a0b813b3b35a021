import type { MaximumOutput } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { outputAssumption } from '../../words/outputAssumption';
import { bandEdges } from '../charts/heatMap';
import { levelRange } from '../charts/levelRange';
import { outputChart } from '../charts/outputChart';
import { formatDb, formatHz, formatList, NO_BREAK } from '../format';
import type { DataTable } from '../html/dataTable';
import { namedOf } from '../session';
import { firstSentence, heldUnits, plainSentence } from '../text';
import { averageName, isAtOneMetre, peakOf, stopWords } from '../verdict/outputSentences';
import { ended } from '../verdict/sentence';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

/** Greatest clean output in short bursts, centre by centre. */
export function outputFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const output = view.maximumOutput;
  if (!output || output.centres.length === 0) return undefined;
  const { centres, averages } = output;
  const named = namedOf(view);
  const [peak, rms] = levelNames(output);
  const levels = centres.flatMap((centre) => [peakOf(centre), centre.rmsAt2mDb]).filter((one) => one !== null);
  if (levels.length === 0) return undefined;
  const told = centres.map((centre) => {
    const { centreHz, stoppedBy } = centre;
    const level = peakOf(centre);
    if (level === null) return `no burst passed at ${formatHz(nominalHz(centreHz))}`;
    return `${stoppedBy === 'schedule' ? 'at least ' : ''}${formatDb(level)} at ${formatHz(nominalHz(centreHz))}`;
  });
  const means = averages.flatMap((one) => {
    const level = peakOf(one);
    if (level === null) return [];
    const rmsWords = one.rmsAt2mDb === null ? '' : ` (${formatDb(one.rmsAt2mDb)} rms)`;
    return [`${averageName(one)} ${one.atLeast ? 'at least ' : ''}${formatDb(level)}${rmsWords}`];
  });
  const untrusted = centres.some(({ trusted }) => !trusted) ? ' Numbers in brackets are not to be trusted.' : '';
  return {
    id: `fig-output-${index}`,
    kind: 'output',
    title: `Maximum output${named}`,
    caption: `Loudest short burst at each third-octave centre whose harmonics all stay under their limits${named}: ${peak}, with a mark for what stopped it${rms === undefined ? '' : `, and ${rms}`}. The numbers stand below their centres.${untrusted} ${means.length > 0 ? `Averages of pressure: ${formatList(means)}. ` : ''}${ended(firstSentence(heldUnits(plainSentence(outputAssumption(output.assumption)))))} The limits follow published descriptions of CTA-2010; see method.`,
    text: `${peak.charAt(0).toUpperCase()}${peak.slice(1)}: ${formatList(told)}.`,
    build: outputChart({
      output,
      names: rms === undefined ? { peak: 'peak' } : { peak: `peak, 1${NO_BREAK}m`, rms: `rms, 2${NO_BREAK}m` },
      rangeHz: bandEdges(
        centres.map(({ centreHz }) => centreHz),
        drawn.rangeHz,
      ),
      level: levelRange(levels),
    }),
    table: outputTable(output, rms === undefined ? [peak] : [peak, rms], named),
  };
}

/** What the two levels are, in words. */
function levelNames(output: MaximumOutput): [peak: string, rms?: string] {
  return !isAtOneMetre(output)
    ? ['peak level at the microphone']
    : [`peak level at 1${NO_BREAK}m`, `rms level at 2${NO_BREAK}m`];
}

function outputTable({ centres, averages }: MaximumOutput, names: string[], named: string): DataTable {
  const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)} in dB`;
  return {
    caption: `Maximum output in short bursts${named}; drive is the level of the loudest burst that passed`,
    head: ['Centre in Hz', ...names.map(capital), 'Stopped by', 'Drive in dB', 'Trusted'],
    rows: [
      ...centres.map((centre) => [
        String(nominalHz(centre.centreHz)),
        peakOf(centre),
        ...(names.length > 1 ? [centre.rmsAt2mDb] : []),
        stopWords(centre),
        centre.driveDb,
        centre.trusted ? 'yes' : 'no',
      ]),
      ...averages.map((one) => [
        `Average: ${averageName(one)}`,
        peakOf(one),
        ...(names.length > 1 ? [one.rmsAt2mDb] : []),
        ...[one.atLeast ? 'at least' : '–', null, '–'],
      ]),
    ],
  };
}
