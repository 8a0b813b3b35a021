import type { CsvValue } from '../../model/csv';
import type { CaptureQuality } from '../../model/findings';
import { nominalHz } from '../../model/octaves';

type Rows = CsvValue[][];

const CAPTURE = ['recording', 'label'];
export const CAPTURE_HEAD = [
  ...CAPTURE,
  'device',
  'setting',
  'run drive (dB)',
  'verdict',
  'peak (dBFS)',
  'clipped samples',
  'clipped from (s)',
  'truncated at (Hz)',
  'missed below (Hz)',
  'lowest signal-to-noise (dB)',
  'clock (ppm)',
  'clock uncertainty (ppm)',
  'capture rate (Hz)',
  'stimulus rate (Hz)',
  'other take',
  'largest difference (dB)',
  'at (Hz)',
  'median difference (dB)',
  'warnings',
];

export function captureRow(one: CaptureQuality): CsvValue[] {
  const { about, ratesHz, repeatability: repeat } = one;
  const snr = one.snrDb.db.filter(Number.isFinite);
  return [
    ...[one.recording, one.label, about.device, about.setting, about.driveDb, one.verdict],
    ...[one.peakDbfs, one.clippedSamples, one.clippedAtS, one.truncatedAtHz, one.missedBelowHz],
    ...[snr.length > 0 ? Math.min(...snr) : null, one.clockPpm, one.clockUncertaintyPpm],
    ...[ratesHz?.capture, ratesHz?.stimulus, repeat?.take, repeat?.worstDb, repeat?.atHz, repeat?.medianDb],
    one.warnings.map(({ message }) => message).join(' '),
  ];
}

export const SNR_HEAD = [...CAPTURE, 'band (Hz)', 'exact centre (Hz)', 'signal-to-noise (dB)'];

export function snrRows({ recording, label, snrDb }: CaptureQuality): Rows {
  return snrDb.frequencyHz.map((hz, k) => [recording, label, nominalHz(hz), hz, snrDb.db[k]]);
}

export const HUM_HEAD = [...CAPTURE, 'frequency (Hz)', 'level (dB)'];

export function humRows({ recording, label, humHz }: CaptureQuality): Rows {
  return humHz.map(({ frequencyHz, levelDb }) => [recording, label, frequencyHz, levelDb]);
}
