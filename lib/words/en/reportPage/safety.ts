import { type Format, NO_BREAK } from '../../format';

/** How loud it was at the ear, and what can hurt. */
export const safety = (say: Format) => ({
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
          ? 'no exposure at all is permitted'
          : seconds > 86_400
            ? 'a whole day is permitted'
            : `${say.duration(seconds)} a day is permitted`
      }.`,
    unknown: (dbc: number | null, from: string) =>
      `The A-weighted level at the ear is unknown${dbc === null ? '' : ` (${say.dbWeighted(dbc, 'C')}${from ? `; ${from}` : ''})`}, and so is the time that would be permitted.`,
    measured: (seconds: number) => `Measuring took ${say.duration(seconds)}.`,
    tooLong: (measured: number, permitted: number) =>
      `Ears: measuring took ${say.duration(measured)}; ${permitted <= 0 ? 'no exposure at all is' : `${say.duration(permitted)} a day is`} permitted at that level.`,
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
});
