import { csvRows } from '../../model/csv';
import type { Curve } from '../../model/curve';
import { captureOf } from '../../response/captureWarnings';
import type { CsvTable } from './findingTables';

/** More points than this in all are not written: the files they came from hold them. */
export const MOST_POINTS = 2_000_000;

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

/** More points of harmonics than this in all are left out: they are many, and their bands are in the findings. */
export const MOST_HARMONIC_POINTS = 50_000;

export const HARMONIC_RUNS_FILE = 'harmonic-runs.csv';
export const HARMONICS_FILE = 'harmonic-curves.csv';

/** The same for curves of harmonics, in files of their own: levels are dB re the fundamental over its frequency. */
export function harmonicTables(harmonics: Curve[]): CsvTable[] {
  if (harmonics.length === 0) return [];
  const head = ['number', ...RUN_HEAD, 'order', 'capture'];
  const rows = harmonics.map((curve, k) => [k + 1, ...runRow(curve), curve.order, captureOf(curve)]);
  const tables = [{ name: HARMONIC_RUNS_FILE, csv: csvRows([head, ...rows]) }];
  const points = harmonics.reduce((sum, curve) => sum + curve.frequencyHz.length, 0);
  if (points <= MOST_HARMONIC_POINTS) tables.push({ name: HARMONICS_FILE, csv: harmonicText(harmonics) });
  return tables;
}

/** Points an octave that the page carries of a curve of a harmonic. */
export const CARRIED_POINTS = 24;

/** Leave out points closer than 1/24 octave to the last one kept. */
export function thinCurve(curve: Curve): Curve {
  // a grid of just that spacing keeps all its points
  const step = 2 ** (1 / CARRIED_POINTS) * (1 - 1e-3);
  let last = 0;
  const kept = curve.frequencyHz.flatMap((hz, i) => {
    if (hz < last * step) return [];
    last = hz;
    return [i];
  });
  const pick = (values: number[]) => kept.map((i) => values[i]);
  const { frequencyHz, levelDb, noiseDb } = curve;
  return {
    ...curve,
    frequencyHz: pick(frequencyHz),
    levelDb: pick(levelDb),
    ...(noiseDb && { noiseDb: pick(noiseDb) }),
  };
}

/** By number instead of identity, levels to 2 decimals: there are several such curves to each response. */
function harmonicText(harmonics: Curve[]): string {
  const lines = ['number,frequency (Hz),level re fundamental (dB),noise re fundamental (dB)\r\n'];
  harmonics.forEach(({ frequencyHz, levelDb, noiseDb }, k) => {
    for (let i = 0; i < frequencyHz.length; i++) {
      const noise = noiseDb ? round(noiseDb[i], 10) : '';
      lines.push(`${k + 1},${round(frequencyHz[i], 1000)},${round(levelDb[i], 100)},${noise}\r\n`);
    }
  });
  return lines.join('');
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
