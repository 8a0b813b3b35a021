import { type Format, NO_BREAK } from '../../format';

/** What the words of the findings mean. */
export const termList = (say: Format) => ({
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
});
