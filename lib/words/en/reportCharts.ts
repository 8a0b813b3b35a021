import type { RoomFeature } from '../../model/findings';
import { type Format, MINUS } from '../format';
import { driveRange } from './verdictParts';

/** What stands inside the charts of a report: axes, keys, marks. */
export const reportCharts = (say: Format) => ({
  frequencyAxis: 'Frequency in Hz',
  levelAxis: (scale: 'spl' | 'relative') => (scale === 'spl' ? 'Level in dB re 20\u00a0µPa' : 'Level in dB (relative)'),
  /** '+12': a drive without its unit. */
  driveNumber: (driveDb: number) => `${driveDb > 0 ? '+' : ''}${say.short(driveDb)}`,
  driveAxis: (hasBad: boolean) => `Drive in dB${hasBad ? ' (×: bad capture)' : ''}`,
  differenceAxis: 'Level difference in dB',
  harmonicAxis: 'Level in dB re the fundamental',
  seenAxis: (level: string) => `Seen: ${level}`,
  /** What a fitted roll-off is, over the range it was read from. */
  rollOff: (f0Hz: number | null, slopeDb: number, rangeHz: [number, number]) =>
    `${f0Hz === null ? '' : `corner ${say.hz(f0Hz)}, `}${say.short(slopeDb)} dB per octave, read over ${say.hzRange(...rangeHz)}`,
  snrAxis: 'Signal-to-noise ratio in dB',
  trustedFrom: (db: number) => `trusted from ${say.db(db, 0)}`,
  hum: 'mains hum',
  noise: 'noise',
  predictedAxis: 'Predicted: room alone, in dB re free field at 1 m',

  cameIn: 'came in',
  wentOut: 'went out',
  pinned: 'kept',

  untrustedLine: 'dotted: untrusted',
  badLine: '×: bad capture',
  window: (heightDb: number) => `range within ${say.short(heightDb)} dB`,
  windowRun: 'run the window is read from',
  leftOut: "room's dip, left out",
  roomDip: "room's dip, Hz",
  otherDip: 'other dip, Hz',
  roomPeak: "room's peak",
  otherPeak: 'other peak',
  predictedAt: 'predicted at',
  /** What a dip or peak comes from, in few letters; '' where nobody knows. */
  cause: ({ type, values = {} }: RoomFeature['cause']) => {
    const { as = type, order, otherOrder, boundary } = values;
    if (as === 'mode' && order) return `mode ${order}`;
    if (as === 'interference' && order && otherOrder) return `${order} + ${otherOrder}`;
    if (as === 'boundary' && boundary) return `${boundary}`;
    return type === 'signature' ? 'signature' : type === 'listed' ? 'listed' : '';
  },
  pointDown: (downDb: number, hz: number) => `${MINUS}${say.short(downDb)} dB: ${say.hertz(hz)} Hz`,

  region: (kind: 'limiter' | 'gradual', fromDb: number, toDb: number) =>
    `${kind === 'limiter' ? 'limits' : 'gives way'} from ${driveRange(fromDb, toDb, say)}`,
  /** Where there is no room for more; the most telling first. */
  regionShort: (fromDb: number) => [
    `from ${say.drive(fromDb)}`,
    say.drive(fromDb),
    `${fromDb > 0 ? '+' : ''}${say.short(fromDb)}`,
  ],
  limitKey: 'limited, from drive',
  extentUnknown: 'whether it limits is unknown',
  breakBetween: (lower: string, upper: string, offDb: number) =>
    `break between ${lower} and ${upper}: ${say.dbChange(offDb)} off`,

  ceilingReached: 'limit reached',
  ceilingAtLeast: 'at least: no limit met',
  passReached: 'passed there',
  passAtLeast: 'at least: not passed',
  passAtMost: 'at most: passed from the start',
  untrusted: 'untrusted',
  untrustedCell: 'untrusted or no value',

  lossKey: ([first, second, ...rest]: number[]) => {
    const ends = [second, ...rest];
    return [
      `louder than driven (below ${say.signed(first, 1)})`,
      `in full (within ${say.short(second)}\u00a0dB)`,
      ...rest.map((limit, k) => `${say.short(ends[k])}–${say.short(limit)}`),
      `above ${say.short(ends[ends.length - 1])} dB lost`,
    ];
  },
  thdKey: (limits: number[]) => [
    `THD below ${limits[0]} %`,
    ...limits.slice(1).map((limit, k) => `${limits[k]}–${limit}`),
    `above ${limits[limits.length - 1]} %`,
  ],

  hinge: (hz: number) => `hinge ${say.hz(hz)}`,
  thd: 'THD',
  noiseAlone: 'noise alone',
  harmonic: (order: number) => `harmonic ${order}`,

  peakAtMicrophone: 'peak',
  peakAt1m: 'peak, 1\u00a0m',
  rmsAt2m: 'rms, 2\u00a0m',
  stoppedBy: 'stopped by',
  stops: {
    distortion: 'stopped by distortion',
    compression: 'by compression',
    schedule: 'at least: none louder was played',
    noise: 'by noise',
    clipping: 'by clipping of the capture',
  },
  shortStops: { distortion: 'dist.', compression: 'comp.', schedule: 'end', noise: 'noise', clipping: 'clip' },
  shortHarmonic: (order: number) => `H${order}`,
});
