import type { CsvValue } from '../../model/csv';
import type { Distortion, Findings, MaximumOutput } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { CAPTURE_HEAD, captureRow, HUM_HEAD, humRows, SNR_HEAD, snrRows } from './captureRows';

type Rows = CsvValue[][];

/** Tables of distortion, maximum output and captures: name, head, rows. */
export function soundTables(findings: Findings): [name: string, head: string[], rows: Rows][] {
  const { distortion = [], maximumOutput = [], captureQuality = [] } = findings;
  return [
    ['distortion', DISTORTION_HEAD, distortion.flatMap(distortionRows)],
    ['harmonics', HARMONIC_HEAD, distortion.flatMap(harmonicRows)],
    ['clean-levels', PASS_HEAD, distortion.flatMap(passRows)],
    ['maximum-output', OUTPUT_HEAD, maximumOutput.flatMap(outputRows)],
    ['maximum-output-averages', AVERAGE_HEAD, maximumOutput.flatMap(averageRows)],
    burstTable(maximumOutput),
    ['captures', CAPTURE_HEAD, captureQuality.map(captureRow)],
    ['capture-noise', SNR_HEAD, captureQuality.flatMap(snrRows)],
    ['capture-hum', HUM_HEAD, captureQuality.flatMap(humRows)],
  ];
}

const BAND = ['device', 'setting', 'band (Hz)', 'exact centre (Hz)'];
const bandOf = ({ device, setting, bandsHz }: Distortion, band: number): CsvValue[] => [
  device,
  setting,
  nominalHz(bandsHz[band]),
  bandsHz[band],
];
const RUN = ['run', 'curve', 'drive (dB)', 'drive above quietest (dB)'];
const runOf = ({ rungs }: Distortion, k: number): CsvValue[] => [
  rungs[k].label,
  rungs[k].curve,
  rungs[k].driveDb,
  rungs[k].driveDb - rungs[0].driveDb,
];

const DISTORTION_HEAD = [...BAND, ...RUN, 'fundamental (dB)', 'THD (%)', 'noise as THD (%)', 'THD to order', 'trusted'];

function distortionRows(one: Distortion): Rows {
  return one.rungs.flatMap((_, k) =>
    one.bandsHz.map((_, band) => [
      ...bandOf(one, band),
      ...runOf(one, k),
      ...[
        one.levelDb[k][band],
        one.thdPercent[k][band],
        one.noisePercent[k][band],
        one.thdToOrder,
        one.trusted[k][band],
      ],
    ]),
  );
}

const HARMONIC_HEAD = [...BAND, ...RUN, 'order', 'level re fundamental (dB)', 'trusted'];

function harmonicRows(one: Distortion): Rows {
  return one.rungs.flatMap((_, k) =>
    one.harmonics.flatMap(({ order, levelDb }) =>
      one.bandsHz.map((_, band) => [
        ...bandOf(one, band),
        ...runOf(one, k),
        ...[order, levelDb[k][band], one.trusted[k][band]],
      ]),
    ),
  );
}

const PASS_HEAD = [...BAND, 'THD passed (%)', 'drive above quietest (dB)', 'level there (dB)', 'passed', 'scale'];

function passRows(one: Distortion): Rows {
  return one.passes.flatMap(({ percent, driveDb, levelDb, reached }) =>
    one.bandsHz.map((_, band) => [
      ...bandOf(one, band),
      ...[percent, driveDb[band], levelDb[band], reached[band], scaleText(one.scale)],
    ]),
  );
}

const UNIT = ['device', 'setting'];
const OUTPUT_HEAD = [
  ...UNIT,
  'centre (Hz)',
  'exact centre (Hz)',
  'peak at the microphone (dB)',
  'peak at 1 m (dB)',
  'rms at 2 m (dB)',
  'drive (dB)',
  'stopped by',
  'harmonic',
  'harmonic level (dB)',
  'limit (dB)',
  'trusted',
  'scale',
  'measured at (m)',
  'place',
];

function outputRows(one: MaximumOutput): Rows {
  return one.centres.map((centre) => [
    ...[one.device, one.setting, nominalHz(centre.centreHz), centre.centreHz],
    ...[centre.levelAtMicrophoneDb, centre.peakAt1mDb, centre.rmsAt2mDb],
    ...[centre.driveDb, centre.stoppedBy, centre.harmonic?.order, centre.harmonic?.levelDb, centre.harmonic?.limitDb],
    ...[centre.trusted, scaleText(one.scale), one.measuredAtM, one.assumption.place],
  ]);
}

const AVERAGE_HEAD = [
  ...[...UNIT, 'average', 'centres (Hz)', 'peak at the microphone (dB)', 'peak at 1 m (dB)', 'rms at 2 m (dB)'],
  'at least',
];

function averageRows({ device, setting, averages }: MaximumOutput): Rows {
  return averages.map(({ name, centresHz, levelAtMicrophoneDb, peakAt1mDb, rmsAt2mDb, atLeast }) => [
    ...[device, setting, name, centresHz.map(nominalHz).join('; '), levelAtMicrophoneDb, peakAt1mDb, rmsAt2mDb],
    atLeast,
  ]);
}

/** Every burst, with a column for each harmonic from the second up. */
function burstTable(outputs: MaximumOutput[]): [name: string, head: string[], rows: Rows] {
  const bursts = outputs.flatMap(({ device, setting, centres }) =>
    centres.flatMap((centre) => centre.bursts.map((burst) => ({ device, setting, centre, burst }))),
  );
  const count = Math.max(0, ...bursts.map(({ burst }) => burst.harmonicsDb.length));
  const orders = Array.from({ length: count }, (_, k) => k);
  const head = [...UNIT, 'centre (Hz)', 'drive (dB)', 'level (dB)', 'passed'];
  const rows = bursts.map(({ device, setting, centre, burst }): CsvValue[] => [
    ...[device, setting, nominalHz(centre.centreHz), burst.driveDb, burst.levelDb, burst.passed],
    ...orders.map((k) => burst.harmonicsDb[k]),
  ]);
  return ['maximum-output-bursts', [...head, ...orders.map((k) => `harmonic ${k + 2} (dB)`)], rows];
}

function scaleText(scale: Distortion['scale']): string {
  return scale === 'spl' ? 'dB re 20 uPa' : 'relative';
}
