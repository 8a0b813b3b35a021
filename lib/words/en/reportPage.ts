import { type Format, NO_BREAK } from '../format';
import { driveRange } from './verdictParts';

/** Headings, table at a glance, method, captures, doubts and data of a report's page. */
export const reportPage = (say: Format) => ({
  language: 'en',
  unnamed: 'Unnamed unit',
  notNamed: 'not named',
  skip: 'To the findings',
  headlines: 'Findings',
  glance: 'At a glance',
  figures: 'Figures',
  moreFigures: (count: number) => `${say.count(count, 'more figure')}`,
  more: 'Behind the numbers',
  verdict: 'In sentences',
  doubts: 'Doubts and remarks',
  captures: 'Captures',
  method: 'Method',
  terms: 'Terms',
  cautions: 'Safety',
  data: 'Data',
  footer: 'Made with Bassloom from the findings that this page carries.',
  figureLink: 'Fig.',
  figureLabel: (number: number) => `Figure ${number}.`,
  numbers: 'Numbers',
  numbersOf: (number: number) => `Numbers of figure ${number}`,
  doubtMark: 'why doubted',
  noAnalysis: (curves: number, recordings: number) =>
    `No analysis has been made; this report holds ${say.list([
      ...(curves > 0 || recordings === 0 ? [say.count(curves, 'curve')] : []),
      ...(recordings > 0 ? [say.count(recordings, 'recording')] : []),
    ])} as measured.`,
  noConclusion: 'No conclusions were drawn from these findings.',
  mixed: 'Mixed procedures: differences between these runs may come from the way of measuring, not from the unit.',
  warnings: (count: number) => `${say.count(count, 'warning')}: numbers not to be used`,

  /** What was measured, in one line. */
  measured: (counts: {
    runs: number;
    settings: number;
    drivesDb: [low: number, high: number] | null;
    recordings: number;
    procedure: string;
  }) =>
    [
      ...(counts.runs > 0 || counts.recordings === 0 ? [say.count(counts.runs, 'run')] : []),
      ...(counts.settings > 1 ? [`${counts.settings} settings`] : []),
      ...(counts.drivesDb
        ? [
            counts.drivesDb[0] === counts.drivesDb[1]
              ? `drive ${say.drive(counts.drivesDb[0])}`
              : `drive ${driveRange(counts.drivesDb[0], counts.drivesDb[1], say)}`,
          ]
        : []),
      ...(counts.recordings > 0 && counts.runs === 0 ? [say.count(counts.recordings, 'recording')] : []),
      ...(counts.procedure ? [counts.procedure] : []),
    ].join(', '),

  topics: {
    range: 'Range',
    switch: 'Switch',
    limits: 'Limits',
    distortion: 'Distortion',
    output: 'Output',
    shape: 'Shape with drive',
    room: 'Room',
    trust: 'Trust',
    ears: 'Ears',
  } as Record<string, string>,

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
    notReached: 'not reached',
    limited: 'Limited from drive',
    limits: (ranges: { lowHz: number; highHz: number; fromDb: number; toDb: number; kind: 'limiter' | 'gradual' }[]) =>
      ranges
        .map(
          (one) =>
            `${say.hzRange(one.lowHz, one.highHz)}: ${driveRange(one.fromDb, one.toDb, say)}, ${one.kind === 'limiter' ? 'sharply' : 'gradually'}`,
        )
        .join('; '),
    extents: { none: 'nowhere', bottom: 'bottom', parts: 'in parts', everywhere: 'everywhere', unknown: 'unknown' },
    breaks: 'Breaks in the ladder',
    between: (lower: string, upper: string) => `${lower} to ${upper}`,
    thd: (percent: number) => `THD below ${say.short(percent)}${NO_BREAK}%`,
    clean: (lowHz: number, highHz: number, levelDb: number, isAtLeast: boolean) =>
      `${lowHz === highHz ? say.hz(lowHz) : say.hzRange(lowHz, highHz)}, up to ${isAtLeast ? 'at least ' : ''}${say.db(levelDb)}`,
    converted: (peakDb: number, rmsDb: number | null, isAtLeast: boolean, metres: number[], place: string) =>
      `peak ${isAtLeast ? 'at least ' : ''}${say.db(peakDb)} at 1${NO_BREAK}m${rmsDb === null ? '' : `, rms ${say.db(rmsDb)} at 2${NO_BREAK}m`}, from ${say.list(metres.map(say.metres))} by inverse distance (${place})`,
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

  methodTable: {
    caption: 'How it was measured',
    runs: 'Runs',
    responses: (count: number) => say.count(count, 'response'),
    procedure: 'Procedure',
    byProcedure: (measured: string, planned: string) => `${measured}; ${planned} by the procedure`,
    scale: 'Level scale',
    scales: { spl: `dB re 20${NO_BREAK}µPa`, relative: 'relative: levels compare within this report only' },
    correction: 'Microphone correction',
    corrections: {
      none: 'none',
      notApplied: 'a correction is present but was not applied',
      noneApplied: 'none applied',
      all: 'applied to all responses',
    },
    correctedSome: (some: number, all: number) => `applied to ${some} of ${all} responses only`,
    noise: 'Noise',
    noiseFrom: {
      'noise run': 'measured in a run of its own',
      'noise in the file': 'came with the curves',
      'scatter between rungs': 'not measured; estimated from the scatter between runs',
      unknown: 'unknown',
    },
    noiseRuns: (count: number) => say.count(count, 'noise run'),
    noNoise: 'not measured',
    repeat: 'Repeatability of whole runs',
    repeatScatter: (db: number) => `standard deviation ${say.db(db, 2)}`,
    position: 'Position',
    distance: 'Distance',
    taken: 'Taken',
    takenRange: (from: string, to: string) => `${from} to ${to}`,
    roomField: (name: string) => `Room: ${name.toLowerCase()}`,
    room: 'Room',
    schroeder: 'Schroeder frequency',
    schroederValue: (hz: number, modes: number | null) =>
      `${say.hz(hz)}${modes === null ? '' : `, ${say.count(Math.round(modes), 'mode')} below it`}; above it a room cannot be predicted mode by mode`,
    drawn: 'Figures',
    drawnValue: (fraction: number) => `drawn after smoothing over 1/${fraction} octave`,
    burst: 'Burst method',
    burstValue: (isFull: boolean) =>
      `shaped tone bursts with limits for each harmonic, after published descriptions of CTA-2010${isFull ? '' : '; levels hold at the microphone, in this room'}`,
    fieldYes: 'yes',
    fieldNo: 'no',
    octave: (n: string) => `1/${n} octave`,
    size: '(length, width, height)',
    notes: 'Notes from reading and collecting',
    processing: 'Processing',
    steps: 'What was done to the curves, in this order',
    stepHead: ['Step', 'With', 'Curves'],
    countOf: (some: number, all: number) => `${some} of ${all}`,
    differentValues: (count: number) => `${count} different values`,
    or: ' or ',
    notSet: 'not set',
    runList: 'Curves',
    runCaption: 'All curves of this report',
    runHead: ['Label', 'Role', 'Setting', 'Drive in dB', 'Range', 'Points', 'Identity'],
    hzRange: (lowHz: number, highHz: number) => say.hzRange(lowHz, highHz),
  },

  doubtList: {
    none: 'Nothing speaks against the numbers of this report.',
    warnings: 'Not to be used',
    doubts: 'To be taken with care',
    remarks: 'Good to know',
    /** Behind a sentence that holds for several runs. */
    of: (names: string[], isSame: boolean) => {
      if (names.length === 0) return '';
      const what =
        names.length <= 3
          ? say.list(names)
          : `${say.count(names.length, 'run')}, ${names[0]} to ${names[names.length - 1]}`;
      return isSame || names.length === 1 ? what : `${what}; values differ, see findings.json`;
    },
    many: (count: number) => `${count} findings`,
  },

  captureTable: {
    caption: 'Captures, and whether they can be trusted',
    head: ['Capture', 'Verdict'],
    verdicts: { good: 'good', doubtful: 'doubtful', bad: `×${NO_BREAK}bad` },
    counts: (good: number, doubtful: number, bad: number) =>
      say.list([
        ...(good > 0 ? [`${good} good`] : []),
        ...(doubtful > 0 ? [`${doubtful} doubtful`] : []),
        ...(bad > 0 ? [`${bad} bad`] : []),
      ]),
    columns: {
      peak: 'Peak in dBFS',
      clipped: 'Clipped samples',
      hum: 'Mains hum',
      snr: 'Lowest signal-to-noise',
      caught: 'Sweep caught',
      clock: "Recorder's clock in ppm",
      rates: 'Sample rates',
      repeat: 'Against another take',
    },
    none: 'none',
    clipped: (samples: number, atS: number | null) =>
      atS === null ? `${samples}` : `${samples}, from ${say.number(atS, 2)}${NO_BREAK}s`,
    hum: (hz: number, db: number, more: number) =>
      `${say.hz(hz)} at ${say.db(db, 0)}${more > 0 ? ` and ${more}${NO_BREAK}more` : ''}`,
    snr: (db: number, hz: number) => `${say.db(db, 0)} at ${say.hz(hz)}`,
    whole: 'whole',
    caught: (fromHz: number | null, toHz: number | null) =>
      [fromHz === null ? '' : `from ${say.hz(fromHz)}`, toHz === null ? '' : `up to ${say.hz(toHz)}`]
        .filter(Boolean)
        .join(' '),
    clock: (ppm: number, uncertainty: number | null) =>
      `${say.number(ppm, 1)}${uncertainty === null ? '' : ` ± ${say.number(uncertainty, 1)}`}`,
    rates: (capture: number, stimulus: number) => `${capture} of ${stimulus}${NO_BREAK}Hz`,
    repeat: (worstDb: number, hz: number, medianDb: number) =>
      `${say.db(worstDb)} at worst (${say.hz(hz)}), median ${say.db(medianDb, 2)}`,
    amiss: 'What is wrong, and what to do',
  },

  termList: {
    harmonics: 'Harmonics',
    harmonicsText: `Whole multiples of the tone that is played, added by the unit; given below the fundamental, over the frequency of the fundamental. ${say.db(-20, 0)} is 10${NO_BREAK}%, ${say.db(-40, 0)} is 1${NO_BREAK}%. An exponential sweep brings each harmonic out ahead of the response, where it is cut out.`,
    thd: 'THD',
    thdText: (toOrder: number) =>
      `Total harmonic distortion: root of the summed power of harmonics 2 to ${toOrder} over the fundamental, in third-octave bands of the fundamental, at the microphone after correction. It belongs to unit and room together: a dip of the room at the fundamental or a peak at a harmonic raises it, the reverse lowers it. Values in which noise prevails are marked untrusted.`,
    compression: 'Compression',
    compressionText:
      'Level that the lowest clear run would have reached at this drive, less the level measured, in third-octave bands.',
    window: 'Range within a window',
    windowText:
      'The widest range over which the response, smoothed over 1/12 octave, stays inside a window of that height. The level of the window is free.',
    hinge: 'Hinge',
    hingeText: 'Frequency at which half of the difference at the bottom is reached.',
    output: 'Maximum output',
    outputText: (limits: string[]) =>
      `Shaped tone bursts of rising level at third-octave centres. At each centre the loudest burst counts whose harmonics all stay under their limits (${limits.join('; or ')} re the fundamental). Averages are means of pressure, not of dB.`,
    limit: (fromOrder: number, toOrder: number | null, limitDb: number) => {
      const orders =
        toOrder === null
          ? `s ${fromOrder} and up`
          : toOrder === fromOrder
            ? ` ${fromOrder}`
            : `s ${fromOrder} to ${toOrder}`;
      return `harmonic${orders}: ${say.db(limitDb, 0)}`;
    },
    limits: (parts: string[]) => parts.join(', '),
    snr: 'Signal-to-noise ratio (SNR)',
    snrText: `How far the response stands above the noise in the same band after the sweep is divided out. At 20${NO_BREAK}dB noise moves a level by less than 1${NO_BREAK}dB; below 10${NO_BREAK}dB values are marked untrusted.`,
  },

  exposure: {
    title: 'Sound level at the ear',
    known: (dba: number, dbc: number | null, from: string) =>
      `${say.list([say.dbWeighted(dba, 'A'), ...(dbc === null ? [] : [say.dbWeighted(dbc, 'C')])])}${from ? ` (${from})` : ''}.`,
    loudest: (dba: number | undefined, dbc: number | undefined) =>
      `At the loudest moment of the sweep it was ${say.list([
        ...(dba === undefined ? [] : [say.dbWeighted(dba, 'A')]),
        ...(dbc === undefined ? [] : [say.dbWeighted(dbc, 'C')]),
      ])}.`,
    bassHeavy: 'C reads far more than A: most of this sound is low bass.',
    permitted: (seconds: number) =>
      `By NIOSH 98-126 (85${NO_BREAK}dB(A) for 8${NO_BREAK}h, halved for every 3${NO_BREAK}dB more), ${
        seconds <= 0
          ? 'no stay at all is permitted'
          : seconds > 86_400
            ? 'a whole day is permitted'
            : `${say.duration(seconds)} a day is permitted`
      }.`,
    unknown: (dbc: number | null, from: string) =>
      `The A-weighted level at the ear is unknown${dbc === null ? '' : ` (${say.dbWeighted(dbc, 'C')}${from ? `; ${from}` : ''})`}, and so is the time that would be permitted.`,
    measured: (seconds: number) => `The measuring itself took ${say.duration(seconds)}.`,
    tooLong: (measured: number, permitted: number) =>
      `Ears: the measuring took ${say.duration(measured)}; ${permitted <= 0 ? 'no stay' : say.duration(permitted)} a day is permitted at that level.`,
    stated: 'as stated',
    fromSweep: (run: string | null, runs: number) =>
      `read at the microphone from ${say.count(runs, 'sweep')}${run ? `, the loudest ${run}` : ''}`,
    hurts: 'What can hurt',
  },

  cautionList: [
    [
      'Ears',
      'Levels like those in this report damage hearing. Wear hearing protection, keep people and animals out of the room, and start every series at the lowest drive.',
    ],
    [
      'Low bass',
      `An A-weighted meter reads 20${NO_BREAK}Hz about 50${NO_BREAK}dB too low (IEC 61672-1): it shows a harmless number while the true level is not harmless. Judge by unweighted level, keep exposures short, and follow the rules of the place where they are stricter.`,
    ],
    [
      'Mains',
      'Work on mains-powered equipment only with the plug out, and leave wiring and opened amplifiers to those who are licensed for it. Parts inside stay charged after the plug is pulled. Follow the electrical code of the place.',
    ],
    ['Weight', 'Heavy units need two people or a lift, and must not be able to tip, walk or fall while they play.'],
    [
      'Drivers and amplifiers',
      'Sweeps near the limit destroy drivers and amplifiers within seconds: raise the drive in small steps, stop at the first knock, rattle or smell, and let the unit cool between runs. Below the tuning of a vented box the cone is not held by the air.',
    ],
    [
      'The building',
      'Loose panes, lamps and shelves move at these frequencies, and neighbours hear what a meter in the room does not show. Keep to local noise rules.',
    ],
  ] as [string, string][],

  dataWords: {
    all: 'The data of this report, held in this page.',
    left: (hasCurves: boolean, hasHarmonics: boolean) =>
      `All findings of this report, held in this page; the ${hasCurves ? (hasHarmonics ? 'curves and their harmonics' : 'curves') : 'curves of harmonics'} themselves are too large for it and stay in the files they came from.`,
    findings: 'all findings',
    table: 'table',
    thinned: (points: number) => `table, thinned to ${points} points an octave`,
    size: (bytes: number) => (bytes < 1000 ? `${bytes}${NO_BREAK}bytes` : `${Math.round(bytes / 1000)}${NO_BREAK}kB`),
    recordings: 'Recordings',
    recordingsText: 'Named here, but not held in this page: their sound stays in the files it came from.',
    recordingsCaption: 'Recordings of this report',
    recordingsHead: ['Label', 'Role', 'Rate in Hz', 'Channels', 'Length in s', 'Identity'],
  },
});
