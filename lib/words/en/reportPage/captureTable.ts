import { type Format, NO_BREAK } from '../../format';

/** Doubts, and whether captures can be trusted. */
export const captureTable = (say: Format) => ({
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
});
