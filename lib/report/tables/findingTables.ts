import type { Caveat } from '../../model/caveat';
import { type CsvValue, csvRows } from '../../model/csv';
import type { BandFit, Findings, RollOff, RoomFeature, SettingDifference } from '../../model/findings';
import {
  BREAK_HEAD,
  breakRows,
  CEILING_HEAD,
  ceilingRows,
  LADDER_HEAD,
  ladderRows,
  ONSET_HEAD,
  onsetRows,
  REGION_HEAD,
  regionRows,
  STEP_HEAD,
  stepRow,
} from './ladderRows';
import { soundTables } from './soundRows';

/** A table of the report's data as delimited text, under the name of the file it would be. */
export interface CsvTable {
  name: string;
  csv: string;
}

type Rows = CsvValue[][];

/**
 * Write every analysis of some findings as a table of its own: one row a value, units in the heads, numbers as numbers.
 *
 * @returns only tables that have rows.
 */
export function findingTables(findings: Findings): CsvTable[] {
  const tables: [name: string, head: string[], rows: Rows][] = [
    ['band-fit', BAND_FIT_HEAD, (findings.bandFit ?? []).map(bandFitRow)],
    ['response-points', POINT_HEAD, (findings.bandFit ?? []).flatMap(pointRows)],
    ['roll-off', ROLL_OFF_HEAD, (findings.rollOff ?? []).map(rollOffRow)],
    ['compression-ladder', LADDER_HEAD, (findings.ladder ?? []).flatMap(ladderRows)],
    ['ceilings', CEILING_HEAD, (findings.ladder ?? []).flatMap(ceilingRows)],
    ['onsets', ONSET_HEAD, (findings.ladder ?? []).flatMap(onsetRows)],
    ['limited-ranges', REGION_HEAD, (findings.ladder ?? []).flatMap(regionRows)],
    ['breaks', BREAK_HEAD, (findings.ladder ?? []).flatMap(breakRows)],
    ['steps', STEP_HEAD, (findings.ladder ?? []).map(stepRow)],
    ['room-features', FEATURE_HEAD, (findings.roomFeatures ?? []).map(featureRow)],
    ['room-prediction', ['frequency (Hz)', 'level re free field at 1 m (dB)'], predictionRows(findings)],
    ['setting-difference', DIFFERENCE_HEAD, (findings.settingDifference ?? []).map(differenceRow)],
    ['setting-difference-values', AT_HEAD, (findings.settingDifference ?? []).flatMap(atRows)],
    ['setting-difference-curves', CURVE_HEAD, (findings.settingDifference ?? []).flatMap(curveRows)],
    ...soundTables(findings),
  ];
  return tables
    .filter(([, , rows]) => rows.length > 0)
    .map(([name, head, rows]) => ({ name: `${name}.csv`, csv: csvRows([head, ...rows]) }));
}

const RUN = ['device', 'setting', 'drive (dB)', 'label', 'curve'];
const runOf = ({ about, label, curve }: BandFit | RollOff): CsvValue[] => [
  about.device,
  about.setting,
  about.driveDb,
  label,
  curve,
];

const BAND_FIT_HEAD = [
  ...RUN,
  'window height (dB)',
  'low (Hz)',
  'high (Hz)',
  'octaves',
  'floor (dB)',
  'ceiling (dB)',
  'masks (Hz)',
  'low without masks (Hz)',
  'high without masks (Hz)',
  'octaves without masks',
  'runner-up low (Hz)',
  'runner-up high (Hz)',
  'wanted low (Hz)',
  'wanted high (Hz)',
  'needed height (dB)',
  'reference (dB)',
  'caveats',
];

function bandFitRow(fit: BandFit): CsvValue[] {
  const masks = fit.masksHz.map(([low, high]) => `${low} to ${high}`).join('; ');
  const { withoutMasks: bare, runnerUp } = fit;
  return [
    ...runOf(fit),
    fit.heightDb,
    ...[fit.lowHz, fit.highHz, fit.octaves, fit.floorDb, fit.ceilingDb, masks],
    ...[bare.lowHz, bare.highHz, bare.octaves, runnerUp?.lowHz, runnerUp?.highHz],
    ...[fit.rangeHz?.[0], fit.rangeHz?.[1], fit.neededHeightDb, fit.referenceDb, messages(fit)],
  ];
}

const POINT_HEAD = [...RUN, 'down (dB)', 'low (Hz)', 'high (Hz)'];

function pointRows(fit: BandFit): Rows {
  return fit.points.map(({ downDb, lowHz, highHz }) => [...runOf(fit), downDb, lowHz, highHz]);
}

const ROLL_OFF_HEAD = [...RUN, 'f0 (Hz)', 'Q', 'order', 'slope (dB/octave)', 'rms error (dB)', 'alignment', 'caveats'];

function rollOffRow(one: RollOff): CsvValue[] {
  return [
    ...runOf(one),
    one.f0Hz,
    one.q,
    one.order,
    one.slopeDbPerOctave,
    one.rmsErrorDb,
    one.alignment,
    messages(one),
  ];
}

const FEATURE_HEAD = [
  'frequency (Hz)',
  'kind',
  'prominence (dB)',
  'depth or height (dB)',
  'width (octaves)',
  'mask low (Hz)',
  'mask high (Hz)',
  'cause',
  'detail',
  'predicted (Hz)',
  'mismatch (Hz)',
  'belongs to',
  'confidence',
  'seen in',
  'of',
  'caveats',
];

function featureRow(one: RoomFeature): CsvValue[] {
  const { cause } = one;
  return [
    ...[one.frequencyHz, one.kind, one.prominenceDb, one.depthDb, one.widthOctaves, ...one.maskHz],
    ...[
      cause.type,
      cause.detail,
      cause.predictedHz,
      cause.mismatchHz,
      one.belongsTo,
      one.confidence,
      one.seenIn,
      one.of,
    ],
    messages(one),
  ];
}

function predictionRows({ roomPrediction: prediction }: Findings): Rows {
  return (prediction?.frequencyHz ?? []).map((hz, i) => [hz, prediction?.levelDb[i]]);
}

const PAIR = ['device', 'a', 'b'];
const DIFFERENCE_HEAD = [
  ...PAIR,
  'kind',
  'level (dB)',
  'hinge (Hz)',
  'at the bottom (dB)',
  'slope (dB/octave)',
  'caveats',
];

function differenceRow(one: SettingDifference): CsvValue[] {
  return [
    ...[one.device, one.a, one.b, one.kind, one.levelDb, one.hingeHz, one.asymptoteDb, one.slopeDbPerOctave],
    messages(one),
  ];
}

const AT_HEAD = [...PAIR, 'frequency (Hz)', 'a minus b (dB)', 'trusted'];

function atRows({ device, a, b, at }: SettingDifference): Rows {
  return at.map((one) => [device, a, b, one.frequencyHz, one.differenceDb, one.trusted]);
}

const CURVE_HEAD = [...PAIR, 'frequency (Hz)', 'a minus b (dB)'];

function curveRows({ device, a, b, curve }: SettingDifference): Rows {
  return curve.frequencyHz.map((hz, i) => [device, a, b, hz, curve.levelDb[i]]);
}

function messages({ caveats }: { caveats?: Caveat[] }): string {
  return (caveats ?? []).map(({ message }) => message).join(' ');
}
