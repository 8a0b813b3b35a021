import { type Format, NO_BREAK } from '../format';
import { driveRange } from './verdictParts';

/** ' with ‘name’', behind what a figure shows; empty where the setting has no name. */
const withName = (name: string): string => (name ? ` with ‘${name}’` : '');

/** Titles, captions, text alternatives and tables of a report's figures. A caption is one sentence. */
export const reportFigures = (say: Format) => ({
  /** A run by its drive. */
  run: (driveDb: number) => say.drive(driveDb),
  /** Below a figure that shows of one setting what an earlier one showed of another. */
  asBefore: (number: number) => `To be read as figure ${number}.`,
  bandHead: 'Band in Hz',
  frequencyHead: 'Frequency in Hz',
  atLeast: (text: string) => `at least ${text}`,
  atMost: (text: string) => `at most ${text}`,
  yes: 'yes',
  no: 'no',
  average: (name: string) => `Average: ${name}`,

  overview: {
    title: (settings: number) => (settings > 1 ? 'Response of the settings' : 'Response'),
    caption: (runs: { name: string; drive: string | null }[], equalDb: number | null) => {
      if (equalDb !== null)
        return runs.length > 1
          ? `Response at one drive, ${say.drive(equalDb)}.`
          : `Response at drive ${say.drive(equalDb)}.`;
      const told = runs.flatMap(({ name, drive }) => (drive ? [`${name} at drive ${drive}`] : []));
      return told.length === runs.length && runs.length > 1
        ? `Response of ${say.list(told)}.`
        : 'Response with the range that it holds.';
    },
    range: (name: string, lowHz: number, highHz: number, heightDb: number) =>
      `${name ? `${name}: ` : ''}${say.hzRange(lowHz, highHz)} within ${say.db(heightDb, 0)}`,
    dips: (hz: number[]) => `Left out as the room's: ${say.hzList(hz)}`,
    text: (parts: string[], lines: number) => `${[say.count(lines, 'line'), ...parts].join('. ')}.`,
    tableCaption: 'Levels in dB of the lines drawn, read at third-octave frequencies',
    levelOf: (name: string) => name || 'Level in dB',
  },

  rollOff: {
    title: (name: string) => `Roll-off${withName(name)}`,
    caption: 'The run that the roll-off was read from.',
    text: (rollOff: string) => `1 line, ${rollOff}.`,
  },

  curves: {
    title: 'Curves',
    caption: 'The curves as they are.',
    text: (names: string[]) => `${say.count(names.length, 'line')}: ${say.list(names)}.`,
    tableCaption: 'Levels in dB of the lines drawn, read at third-octave frequencies',
  },

  captures: {
    title: 'Quality of the captures',
    caption: 'How far the response stands above the noise of its capture.',
    name: (name: string, verdict: 'good' | 'doubtful' | 'bad') =>
      verdict === 'good' ? name : `${name} ${verdict === 'bad' ? '×' : '?'}`,
    capture: (name: string, verdict: 'good' | 'doubtful' | 'bad', clipped: number) =>
      `${name}: ${verdict}${clipped > 0 ? `, ${say.count(clipped, 'clipped sample')}` : ''}`,
    text: (parts: string[]) => `${parts.join('. ')}.`,
    tableCaption: 'Signal-to-noise ratio in dB by third-octave band',
  },

  response: {
    title: (name: string) => `Window${withName(name)}`,
    caption: (run: string, heightDb: number | null) =>
      heightDb === null
        ? 'Response at rising drive, lowest to loudest.'
        : `Response at rising drive; the window of ${say.db(heightDb, 0)} is read at ${run}.`,
    window: (lowHz: number, highHz: number, floorDb: number, ceilingDb: number) =>
      `Window from ${say.db(floorDb)} to ${say.db(ceilingDb)} over ${say.hzRange(lowHz, highHz)}`,
    down: (downDb: number, hz: number) => `${say.short(downDb)}${NO_BREAK}dB down at ${say.hz(hz)}`,
    dips: (hz: number[]) => `The room's dips at ${say.hzList(hz)} are left out`,
    text: (lines: number, parts: string[]) => `${[say.count(lines, 'line'), ...parts].join('. ')}.`,
    tableCaption: (name: string) =>
      `Levels in dB of the lines drawn, read at third-octave frequencies${withName(name)}`,
  },

  ladder: {
    title: (name: string) => `Ladder of drive${withName(name)}`,
    caption: 'Responses at all drives: where lines crowd together, drive no longer turns into level.',
    region: (lowHz: number, highHz: number, fromDb: number, toDb: number, ceilingDb: number) =>
      `limited ${say.hzRange(lowHz, highHz)} from drive ${driveRange(fromDb, toDb, say)}, near ${say.db(ceilingDb)}`,
    text: (count: number, from: string, to: string, parts: string[]) =>
      `${[`${count} lines from ${from} to ${to}`, ...parts].join('. ')}.`,
    tableCaption: (name: string) => `Levels in dB of all runs, read at third-octave frequencies${withName(name)}`,
    bad: (count: number) => `${say.count(count, 'line')} marked × not to be used: bad capture`,
  },

  map: {
    title: (name: string) => `Compression${withName(name)}`,
    caption: (fromDb: number) =>
      `Drive lost in each third-octave band, in dB, written where it is ${say.short(fromDb)}${NO_BREAK}dB or more.`,
    onset: (compressionDb: number, hz: number, driveDb: number) =>
      `${say.short(compressionDb)}${NO_BREAK}dB is lost first at ${say.hz(hz)}, from drive ${say.drive(driveDb)}`,
    trusted: (trusted: number, total: number) => `${trusted} of ${total} values can be trusted`,
    text: (parts: string[]) => `${parts.join('. ')}.`,
    tableCaption: (name: string) =>
      `Compression in dB by band and drive${withName(name)}; an asterisk marks untrusted values`,
    driveHead: (label: string) => `${label} dB`,
  },

  ceilings: {
    title: 'Loudest level per band',
    caption: 'Highest trusted level in each third-octave band.',
    level: (levelDb: number, hz: number, atLeast: boolean) =>
      `${atLeast ? 'at least ' : ''}${say.db(levelDb)} at ${say.hz(hz)}`,
    text: (name: string, levels: string[]) => `${name ? `${name}: ` : ''}${say.list(levels)}`,
    tableCaption: 'Highest trusted level in dB by band; ≥ means at least',
    level1: 'Level',
  },

  range: {
    title: (heightDb: number, name: string) =>
      `Range within ${say.db(heightDb, 0)} as it plays louder${withName(name)}`,
    caption: (heightDb: number) => `Widest range within ${say.db(heightDb, 0)} at each drive.`,
    text: (from: string, fromRun: string, to: string, toRun: string) =>
      `From ${from} at ${fromRun} to ${to} at ${toRun}.`,
    tableCaption: (heightDb: number, name: string) => `Range within ${say.db(heightDb, 0)} by drive${withName(name)}`,
    head: ['Drive in dB', 'From, Hz', 'To, Hz', 'Octaves', 'With the room: from, Hz', 'to, Hz', 'Doubted'],
  },

  difference: {
    title: (a: string, b: string) => `‘${a}’ against ‘${b}’`,
    caption: (a: string, b: string, at: string | null) =>
      `Level with ‘${a}’ minus level with ‘${b}’${at ? `, both at drive ${at}` : ''}.`,
    captionDrives: (a: string, b: string, atA: string, atB: string) =>
      `Level with ‘${a}’ (drive ${atA}) minus level with ‘${b}’ (drive ${atB}).`,
    captionLevel: (a: string, b: string) =>
      `Level with ‘${a}’ minus level with ‘${b}’, at equal level in the reference band.`,
    kind: {
      shelf: 'A shelf',
      level: 'A change of level',
      'low-pass': 'A low-pass',
      other: 'No common kind of switch',
      none: 'No difference',
      unknown: 'Kind unknown',
    },
    hinge: (hz: number) => `hinge ${say.hz(hz)}`,
    level: (db: number) => `level ${say.dbChange(db)}`,
    at: (db: number, hz: number, trusted: boolean) =>
      `${say.dbChange(db)}${trusted ? '' : ' (untrusted)'} at ${say.hz(hz)}`,
    text: (parts: string[]) => `${parts.join(', ')}.`,
    tableCaption: (a: string, b: string) =>
      `Level with ‘${a}’ minus level with ‘${b}’, read at third-octave frequencies`,
    head: ['Frequency in Hz', 'Difference in dB'],
  },

  room: {
    title: 'The room',
    caption: (isPredicted: boolean) =>
      isPredicted
        ? 'Dips and peaks as seen, above what the room alone would do between source and microphone.'
        : 'Dips and peaks as seen, one run a setting.',
    feature: (kind: 'dip' | 'peak', hz: number, db: number, owner: string, cause: string) =>
      `A ${kind} at ${say.hz(hz)}, ${say.db(db)}: ${owner}, ${cause}`,
    none: 'No dips or peaks were found',
    text: (parts: string[]) => `${parts.join('. ')}.`,
    owner: { room: "the room's", unit: "the unit's", unknown: 'owner unknown' },
    cause: {
      mode: 'mode',
      interference: 'interference of modes',
      boundary: 'reflection from a boundary',
      signature: 'learned signature of the room',
      listed: 'listed by the user',
      unexplained: 'unexplained',
    },
    causeWith: (cause: string, detail: string) => `${cause} (${detail})`,
    predicted: (cause: string, hz: number) => `${cause}, predicted at ${say.hz(hz)}`,
    tableCaption: 'Dips and peaks',
    head: [
      ...['Frequency', 'Kind', 'Depth or height in dB', 'Width in octaves', 'Belongs to', 'Cause', 'Confidence'],
      'Seen in runs',
    ],
    ownerCell: { room: 'room', unit: 'unit', unknown: 'unknown' },
    kinds: { dip: 'dip', peak: 'peak' },
    seenIn: (seenIn: number, of: number) => `${seenIn} of ${of}`,
  },

  distortion: {
    title: (name: string) => `Distortion${withName(name)}`,
    caption: (toOrder: number) => `THD (harmonics 2 to ${toOrder}) in percent, at the microphone, in this room.`,
    pass: (percent: number, hz: number, driveDb: number) =>
      `${say.short(percent)}${NO_BREAK}% is passed first at ${say.hz(hz)}, from drive ${say.drive(driveDb)}`,
    tableCaption: (name: string, withLoss: boolean) =>
      `THD in %${withLoss ? ' and, behind it, compression in dB' : ''} by band and drive${withName(name)}; an asterisk marks untrusted values`,
    both: (thd: string, loss: string) => `${thd}; ${loss}`,
  },

  harmonics: {
    title: (run: string, name: string) => `Harmonics at drive ${run}${withName(name)}`,
    titleOne: (name: string) => `Harmonics${withName(name)}`,
    caption: `THD and its harmonics below the fundamental, in this room: ${say.db(-20, 0)} is 10${NO_BREAK}%, ${say.db(-40, 0)} is 1${NO_BREAK}%.`,
    quoted: (percent: number, hz: number) => `${say.percent(percent)} at ${say.hz(hz)}`,
    text: (quoted: string[], count: number) =>
      quoted.length > 0 ? `THD is ${say.list(quoted)}.` : `${count} values of THD and harmonics.`,
    tableCaption:
      'THD in %, what noise alone would read as THD in %, and harmonics in dB re the fundamental; an asterisk marks untrusted values',
    head: (orders: number[]) => [
      ...['Band in Hz', 'Fundamental in dB', 'THD in %', 'Noise in %'],
      ...orders.map((order) => `Harmonic ${order} in dB`),
    ],
  },

  clean: {
    title: (percents: string[], name: string) => `Level at which THD passes ${say.list(percents)}${withName(name)}`,
    caption: 'Level of the fundamental, at the microphone, in this room.',
    percent: (percent: number) => `${say.short(percent)}${NO_BREAK}%`,
    text: (name: string, levels: string[]) => `${name}: ${levels.length > 0 ? say.list(levels) : 'unknown'}`,
    tableCaption: (name: string) =>
      `Level in dB at which THD passes a percentage, by band${withName(name)}; ≥ means cleaner up to at least, ≤ passed already in the quietest run that tells`,
    head: (name: string) => [`${name}: level`, `${name}: drive in dB`],
  },

  output: {
    title: (name: string) => `Maximum output in bursts${withName(name)}`,
    caption: (where: string) => `Loudest burst whose harmonics stay under their limits (burst method): ${where}.`,
    atMicrophone: 'peak level at the microphone',
    converted: (measuredAtM: string, place: string) =>
      `peak at 1${NO_BREAK}m and rms at 2${NO_BREAK}m, calculated from ${measuredAtM} by inverse distance (${place})`,
    places: { 'free field': 'free field', 'half space': 'half space', room: 'room', unknown: 'place unknown' },
    unknownDistance: 'the microphone',
    level: (levelDb: number, hz: number, atLeast: boolean) =>
      `${atLeast ? 'at least ' : ''}${say.db(levelDb)} at ${say.hz(hz)}`,
    none: (hz: number) => `no burst passed at ${say.hz(hz)}`,
    text: (what: string, levels: string[]) => `${what.charAt(0).toUpperCase()}${what.slice(1)}: ${say.list(levels)}.`,
    tableCaption: (name: string) =>
      `Maximum output in short bursts${withName(name)}; drive is the level of the loudest burst that passed`,
    headCentre: 'Centre in Hz',
    headMicrophone: 'Peak at the microphone in dB',
    headPeak: `Peak at 1${NO_BREAK}m in dB`,
    headRms: `Rms at 2${NO_BREAK}m in dB`,
    headRest: ['Stopped by', 'Drive in dB', 'Trusted'],
    stops: {
      distortion: 'distortion',
      compression: 'compression',
      schedule: 'end of the schedule: at least this loud',
      noise: 'noise',
      clipping: 'clipping of the capture',
    },
    scheduleNone: 'end of the schedule',
    harmonic: (order: number, levelDb: number, limitDb: number) =>
      `distortion: harmonic ${order} at ${say.db(levelDb)}, limit ${say.db(limitDb, 0)}`,
    averageName: (name: string, lowHz: number | null, highHz: number | null) =>
      lowHz === null || highHz === null ? name : `${name} (${say.hzRange(lowHz, highHz)})`,
  },
});
