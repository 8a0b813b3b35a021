import { type Format, NO_BREAK } from '../../format';
import { driveRange } from '../verdictParts';

/** The table at a glance. */
export const glanceTable = (say: Format) => ({
  glanceTable: {
    caption: 'Key figures of each setting; drive as the runs name it.',
    doubted: (text: string) => `${text} (doubted)`,
    unusable: (text: string) => `${text} (not to be used)`,
    groups: {
      range: 'Response',
      loudest: 'Loudest level',
      limits: 'Limits',
      distortion: 'Distortion',
      burstsAtMicrophone: 'Bursts, peak at the microphone',
      bursts: 'Bursts',
      trust: 'Trust',
      shared: 'Switch and room',
    },
    windowMasked: (heights: string) => `Within ${heights}${NO_BREAK}dB, room's dips left out`,
    window: (heights: string) => `Within ${heights}${NO_BREAK}dB`,
    down: (db: number) => `${say.short(db)}${NO_BREAK}dB down at`,
    /** The ends, and dips on the way to them that fall as low but come back. */
    downAt: (lowHz: number | null, highHz: number | null, dipsHz: number[]) => {
      const past = dipsHz.length > 0 ? `, past ${dipsHz.length > 1 ? 'dips' : 'a dip'} at ${say.hzList(dipsHz)}` : '';
      if (lowHz !== null && highHz !== null) return `${say.hertz(lowHz)} and ${say.hz(highHz)}${past}`;
      if (lowHz !== null) return `${say.hz(lowHz)}, not at the top${past}`;
      return highHz === null ? 'neither end of the curve' : `${say.hz(highHz)}, not at the bottom${past}`;
    },
    rollOff: 'Roll-off',
    slope: (db: number) => `${say.short(db)}${NO_BREAK}dB/octave`,
    fall: (slope: string, f0Hz: number | null, q: number | null, alignment: string) =>
      [
        slope,
        ...(f0Hz === null ? [] : [say.hz(f0Hz)]),
        ...(q === null ? [] : [`Q${NO_BREAK}${say.number(q, 2)}`]),
        ...(alignment ? [alignment] : []),
      ].join(', '),
    band: (hz: number) => say.hz(hz),
    level: (db: number, isAtLeast: boolean) => `${isAtLeast ? 'at least ' : ''}${say.db(db)}`,
    lost: (db: number) => `${say.short(db)}${NO_BREAK}dB lost from drive`,
    onset: (drive: string, hz: number) => `${drive}, at ${say.hz(hz)}`,
    notReached: (fromHz: number | null) => `not reached${fromUp(fromHz, say)}`,
    limited: 'Limited from drive',
    limits: (ranges: { lowHz: number; highHz: number; fromDb: number; toDb: number; kind: 'limiter' | 'gradual' }[]) =>
      ranges
        .map(
          (one) =>
            `${say.hzRange(one.lowHz, one.highHz)}: ${driveRange(one.fromDb, one.toDb, say)}, ${one.kind === 'limiter' ? 'sharply' : 'gradually'}`,
        )
        .join('; '),
    free: (fromHz: number | null) => `nowhere${fromUp(fromHz, say)}`,
    extents: { bottom: 'bottom', parts: 'in parts', everywhere: 'everywhere', unknown: 'unknown' },
    breaks: 'Breaks in the ladder',
    between: (lower: string, upper: string) => `${lower} to ${upper}`,
    thd: (percent: number) => `THD below ${say.short(percent)}${NO_BREAK}%`,
    clean: (lowHz: number, highHz: number, levelDb: number, isAtLeast: boolean) =>
      `${lowHz === highHz ? say.hz(lowHz) : say.hzRange(lowHz, highHz)}, up to ${isAtLeast ? 'at least ' : ''}${say.db(levelDb)}`,
    converted: (peakDb: number, rmsDb: number | null, isAtLeast: boolean, metres: number[], place: string) =>
      `peak ${isAtLeast ? 'at least ' : ''}${say.db(peakDb)} at 1${NO_BREAK}m${rmsDb === null ? '' : `, rms ${isAtLeast ? 'at least ' : ''}${say.db(rmsDb)} at 2${NO_BREAK}m`}, from ${say.list(metres.map(say.metres))} by inverse distance (${place})`,
    atMicrophone: (peakDb: number, isAtLeast: boolean) =>
      `peak ${isAtLeast ? 'at least ' : ''}${say.db(peakDb)} at the microphone`,
    centreMissing: 'unknown: a centre is missing',
    noneBurst: 'no burst passed',
    untrusted: (text: string) => `${text} (untrusted)`,
    step: 'Drive step, measured',
    stepValue: (measuredDb: number, uncertaintyDb: number, commandedDb: number) =>
      `${say.number(measuredDb, 2)} ± ${say.db(uncertaintyDb, 2)} of ${say.short(commandedDb, 2)}${NO_BREAK}dB`,
    unknown: 'unknown',
    cells: 'Trusted values in the ladder',
    cellCount: (trusted: number, total: number) => `${trusted} of ${total}`,
    difference: (a: string, b: string) => `‘${a}’ against ‘${b}’`,
    roomDips: "Room's dips",
    roomPeaks: "Room's peaks",
    unitFeatures: "Unit's dips and peaks",
    unknownDips: 'Other dips',
    unknownPeaks: 'Other peaks',
    hzList: (hz: number[]) => say.hzList(hz),
  },
});

/** Where noise hides what lies below. */
const fromUp = (fromHz: number | null, say: Format) => (fromHz === null ? '' : ` from ${say.hz(fromHz)} up`);
