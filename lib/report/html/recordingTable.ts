import type { Recording } from '../../model/curve';
import { plainName } from '../text';
import { dataTable } from './dataTable';

/** Recordings that the measurements hold; their sound is not part of the page. */
export function recordingTable(recordings: Recording[]): string {
  if (recordings.length === 0) return '';
  return `<h3>Recordings</h3>\n<p>Named here, but not held in this page: their sound stays in the files it came from.</p>\n${dataTable(
    {
      caption: 'Recordings of this report',
      head: ['Label', 'Role', 'Rate in Hz', 'Channels', 'Length in s', 'Identity'],
      decimals: [1, 1, 0, 0, 2],
      rows: recordings.map(({ label, role, sampleRateHz, channels, seconds, id }) => [
        plainName(label) || 'not named',
        role,
        sampleRateHz,
        channels,
        seconds,
        id,
      ]),
    },
  )}`;
}
