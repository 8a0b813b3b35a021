import { csvRows } from '../../model/csv';
import type { Curve } from '../../model/curve';
import type { CsvTable } from './findingTables';

/** More points than this in all are not put on the page: the files they came from hold them. */
export const MOST_POINTS = 200_000;

export const CURVES_FILE = 'curves.csv';

/**
 * Write the list of curves and the curves themselves, one row a point.
 *
 * @returns the curves only where they have at most {@link MOST_POINTS} points in all.
 */
export function curveTables(curves: Curve[]): CsvTable[] {
  if (curves.length === 0) return [];
  const tables = [{ name: 'runs.csv', csv: csvRows([RUN_HEAD, ...curves.map(runRow)]) }];
  const points = curves.reduce((sum, curve) => sum + curve.frequencyHz.length, 0);
  if (points <= MOST_POINTS) tables.push({ name: CURVES_FILE, csv: curveText(curves) });
  return tables;
}

const RUN_HEAD = [
  'curve',
  'label',
  'role',
  'device',
  'setting',
  'drive (dB)',
  'position',
  'distance (m)',
  'taken at',
  'procedure',
  'scale',
  'points',
  'lowest (Hz)',
  'highest (Hz)',
];

function runRow(curve: Curve) {
  const { about, frequencyHz } = curve;
  return [
    ...[curve.id, curve.label, curve.role, about.device, about.setting, about.driveDb, about.position, about.distanceM],
    ...[about.takenAt, about.procedure, curve.scale === 'spl' ? 'dB re 20 uPa' : 'relative', frequencyHz.length],
    ...[frequencyHz[0], frequencyHz[frequencyHz.length - 1]],
  ];
}

/** Frequency to 4 decimals, levels to 3: finer than any measurement, a third of the size. */
function curveText(curves: Curve[]): string {
  const lines = ['curve,frequency (Hz),level (dB),noise (dB)\r\n'];
  for (const { id, frequencyHz, levelDb, noiseDb } of curves) {
    for (let i = 0; i < frequencyHz.length; i++) {
      const noise = noiseDb ? round(noiseDb[i], 1000) : '';
      lines.push(`${id},${round(frequencyHz[i], 10_000)},${round(levelDb[i], 1000)},${noise}\r\n`);
    }
  }
  return lines.join('');
}

function round(value: number, parts: number): number {
  return Math.round(value * parts) / parts;
}
