import type { MaximumOutput } from '../../model/findings';
import { outputAssumption } from '../../words/outputAssumption';
import { formatNumber, NO_BREAK } from '../format';
import type { Session } from '../session';
import { escapeHtml, heldUnits, plainSentence } from '../text';
import { ended } from '../verdict/sentence';

/** The words of the findings from recordings, and how their numbers come about; empty where there are none. */
export function termsSection({ findings, captures, harmonics }: Session): string {
  const distortion = findings.distortion ?? [];
  const output = findings.maximumOutput ?? [];
  const terms: [term: string, text: string][] = [];
  if (distortion.length > 0 || harmonics.length > 0) {
    const most = Math.max(2, ...distortion.map(({ thdToOrder }) => thdToOrder));
    terms.push(
      [
        'Harmonics',
        `Whole multiples of the tone that is played, added by the unit. Each is given below the fundamental, over the frequency of the fundamental: ${MINUS_20} is 10${NO_BREAK}%, ${MINUS_40} is 1${NO_BREAK}%. In an exponential sweep a harmonic comes out ahead of the response, the more so the higher its order, and is cut out there.`,
      ],
      [
        'THD',
        `Total harmonic distortion: root of the summed power of harmonics 2 to ${most} over the fundamental, in third-octave bands of the fundamental, at the microphone after correction. It is a figure of unit and room together: a dip of the room at the fundamental or a peak at a harmonic raises it, the reverse lowers it. What noise alone would read as THD is shown beside it, and values it prevails in are marked untrusted.`,
      ],
    );
  }
  if (output.length > 0) terms.push(...outputTerms(output));
  if (captures.length > 0) {
    terms.push([
      'Signal-to-noise ratio (SNR)',
      `How far the response stands above the noise in the same band after the sweep is divided out, in dB. At 20${NO_BREAK}dB noise moves a level by less than 1${NO_BREAK}dB; below 10${NO_BREAK}dB values are marked untrusted.`,
    ]);
  }
  if (terms.length === 0) return '';
  const items = terms.map(([term, text]) => `<li><strong>${term}.</strong> ${escapeHtml(text)}</li>`);
  return `<h3>Words and how their numbers come about</h3>\n<ul>${items.join('\n')}</ul>`;
}

const MINUS_20 = `${formatNumber(-20, 0)}${NO_BREAK}dB`;
const MINUS_40 = `${formatNumber(-40, 0)}${NO_BREAK}dB`;

function outputTerms(output: MaximumOutput[]): [string, string][] {
  const limits = [...new Set(output.map((one) => one.limits.map(limitWords).join(', ')))];
  const assumptions = [
    ...new Set(output.map(({ assumption }) => ended(heldUnits(plainSentence(outputAssumption(assumption)))))),
  ];
  return [
    [
      'Maximum output',
      `Shaped tone bursts of rising level at third-octave centres. At each centre the loudest burst counts whose harmonics all stay under their limits (${limits.join('; or ')} re the fundamental). Averages are means of pressure, not of dB. ${assumptions.join(' ')}`,
    ],
  ];
}

function limitWords({ fromOrder, toOrder, limitDb }: MaximumOutput['limits'][number]): string {
  const orders =
    toOrder === null
      ? `s ${fromOrder} and up`
      : toOrder === fromOrder
        ? ` ${fromOrder}`
        : `s ${fromOrder} to ${toOrder}`;
  return `harmonic${orders}: ${formatNumber(limitDb, 0)}${NO_BREAK}dB`;
}
