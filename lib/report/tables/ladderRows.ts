import type { CsvValue } from '../../model/csv';
import type { Ladder } from '../../model/findings';
import { nominalHz } from '../../model/octaves';

type Rows = CsvValue[][];

const BAND = ['device', 'setting', 'band (Hz)', 'exact centre (Hz)'];
const bandOf = (ladder: Ladder, band: number): CsvValue[] => [
  ladder.device,
  ladder.setting,
  nominalHz(ladder.bandsHz[band]),
  ladder.bandsHz[band],
];

export const LADDER_HEAD = [
  ...BAND,
  'run',
  'drive (dB)',
  'drive above quietest (dB)',
  'level (dB)',
  'compression (dB)',
  'signal-to-noise (dB)',
  'trusted',
];

export function ladderRows(ladder: Ladder): Rows {
  return ladder.rungs.flatMap((rung, k) =>
    ladder.bandsHz.map((_, band) => [
      ...bandOf(ladder, band),
      ...[rung.label, rung.driveDb, rung.driveDb - ladder.rungs[0].driveDb],
      ...[ladder.levelDb[k][band], ladder.compressionDb[k][band], ladder.snrDb[k][band], ladder.trusted[k][band]],
    ]),
  );
}

export const CEILING_HEAD = [...BAND, 'ceiling (dB)', 'limit reached'];

export function ceilingRows(ladder: Ladder): Rows {
  return ladder.bandsHz.map((_, band) => [
    ...bandOf(ladder, band),
    ladder.ceiling.levelDb[band],
    ladder.ceiling.reached[band],
  ]);
}

export const ONSET_HEAD = [...BAND, 'compression (dB)', 'drive above quietest (dB)', 'level there (dB)'];

export function onsetRows(ladder: Ladder): Rows {
  return ladder.onset.flatMap((onset) =>
    ladder.bandsHz.map((_, band) => [
      ...bandOf(ladder, band),
      onset.compressionDb,
      onset.driveDb[band],
      onset.outputDb[band],
    ]),
  );
}

export const REGION_HEAD = [
  'device',
  'setting',
  'low (Hz)',
  'high (Hz)',
  'onset above quietest (dB)',
  'last onset above quietest (dB)',
  'ceiling (dB)',
  'kind',
];

export function regionRows({ device, setting, regions }: Ladder): Rows {
  return regions.map((one) => [
    ...[device, setting, one.lowHz, one.highHz, one.onsetDriveDb, one.onsetToDriveDb, one.ceilingDb, one.kind],
  ]);
}

export const BREAK_HEAD = [
  'device',
  'setting',
  'lower curve',
  'upper curve',
  'upper too loud by (dB)',
  'what',
  'bands (Hz)',
];

export function breakRows({ device, setting, breaks }: Ladder): Rows {
  return breaks.map(({ between, offDb, what, bandsHz }) => [
    ...[device, setting, ...between, offDb, what, bandsHz.map(nominalHz).join('; ')],
  ]);
}

export const STEP_HEAD = [
  'device',
  'setting',
  'extent of limiting',
  'commanded (dB)',
  'measured (dB)',
  'uncertainty (dB)',
  'differs',
  'step used',
  'noise known from',
  'caveats',
];

export function stepRow({ device, setting, extent, step, stepUsed, snrFrom, caveats }: Ladder): CsvValue[] {
  return [
    device,
    setting,
    extent,
    step.commandedDb,
    step.measuredDb,
    step.uncertaintyDb,
    step.differs,
    stepUsed,
    snrFrom,
    caveats.map(({ message }) => message).join(' '),
  ];
}
