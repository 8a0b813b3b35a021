import type { Recording } from '../../model/curve';
import type { ReportWords } from '../../words/reportWords';
import { plainName } from '../text';
import { dataTable } from './dataTable';

/** Recordings that the measurements hold; their sound is not part of the page. */
export function recordingTable(recordings: Recording[], words: ReportWords): string {
  const { dataWords, notNamed } = words.page;
  if (recordings.length === 0) return '';
  return `<h3>${dataWords.recordings}</h3>\n<p>${dataWords.recordingsText}</p>\n${dataTable(
    {
      caption: dataWords.recordingsCaption,
      head: dataWords.recordingsHead,
      decimals: [1, 1, 0, 0, 2],
      rows: recordings.map(({ label, role, sampleRateHz, channels, seconds, id }) => [
        plainName(label) || notNamed,
        role,
        sampleRateHz,
        channels,
        seconds,
        id,
      ]),
    },
    words,
  )}`;
}
