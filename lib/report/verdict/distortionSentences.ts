import type { Distortion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { isBadRung } from '../captures';
import {
  formatDb,
  formatHertz,
  formatHz,
  formatHzRange,
  formatList,
  formatPercent,
  formatShort,
  NO_BREAK,
} from '../format';
import type { SettingView } from '../session';
import {
  type CleanRange,
  cleanRange,
  type FirstPass,
  firstPasses,
  loudestTrustedRung,
  passedFromStart,
  quotedThd,
} from './distortionFacts';
import { formatDrive } from './drive';
import { ordinal } from './rangeSentences';
import { about, cautionOf, type Part, type Sentence } from './sentence';

/** How clean it stays, where it passes the next percentage first, and what the loudest run holds. */
export function distortionSentences(view: SettingView, figure?: string): Sentence[] {
  const { distortion } = view;
  if (!distortion) return [];
  const sentence = (parts: Part[]): Sentence => ({ topic: 'Distortion', figure, parts: about(view, ...parts) });
  const clean = cleanParts(distortion);
  const loudest = loudestParts(view, distortion);
  const written = [clean, loudest].filter((parts) => parts.length > 0);
  if (written.length === 0) {
    return [
      sentence([
        'no THD can be told: ',
        { key: 'harmonics do not stand clear of the noise' },
        `.${cautionOf(distortion)}`,
      ]),
    ];
  }
  return written.map((parts, k) => sentence(k === 0 ? [...parts, cautionOf(distortion)] : parts));
}

/** The cleanest statement first: the lowest percentage asked for, then where the others are passed. */
function cleanParts(distortion: Distortion): Part[] {
  const passes = [...distortion.passes].sort((a, b) => a.percent - b.percent);
  const pass = passes.find((one) => cleanRange(distortion, one));
  const clean = pass && cleanRange(distortion, pass);
  const first = firstPasses(distortion).sort((a, b) => a.percent - b.percent);
  // Bands that are above already where THD begins to be known may have passed at any drive below.
  const isOpen = passes.some((one) => distortion.bandsHz.some((_, band) => passedFromStart(distortion, one, band)));
  const passed =
    first.length > 0
      ? ` ${isOpen ? 'As far as can be told, it' : 'It'} passes ${formatList(first.map(passWords))}.`
      : '';
  if (!clean) {
    if (!passed) return [];
    return [
      `THD is above `,
      { key: `${formatShort(passes[0].percent)}${NO_BREAK}%` },
      ` wherever it is known.${passed}`,
    ];
  }
  const unit = distortion.scale === 'spl' ? '' : ' (relative)';
  const { best, whole } = clean;
  return [
    'THD stays below ',
    { key: `${formatShort(pass.percent)}${NO_BREAK}% ${rangeWords(best)} ${upTo(best)}` },
    `${unit}${whole ? `, and ${rangeWords(whole)} ${upTo(whole)}` : ''}, as measured in this room.${passed}`,
  ];
}

/** '3 % first at 12.5 Hz, at 82.5 dB (+9 dB of drive)'. */
function passWords({ percent, hz, levelDb, driveDb, atMost }: FirstPass): string {
  const level = levelDb === null ? '' : `, at ${formatDb(levelDb)}${atMost ? ' or less' : ''}`;
  const drive = driveDb > 0 ? `${formatDrive(Number(driveDb.toFixed(1)))} of drive` : 'in the quietest run';
  return `${formatShort(percent)}${NO_BREAK}% first at ${formatHz(hz)}${level} (${drive})`;
}

function rangeWords({ lowHz, highHz }: CleanRange): string {
  return lowHz === highHz ? `at ${formatHz(lowHz)}` : `from ${formatHertz(lowHz)} to ${formatHz(highHz)}`;
}

/** 'up to 100.2 dB', 'up to at least 100.2 dB'. */
export function upTo({ levelDb, atLeast }: { levelDb: number; atLeast: boolean }): string {
  return `up to ${atLeast ? 'at least ' : ''}${formatDb(levelDb)}`;
}

/** THD of the loudest run that can be trusted, in the bands that levels are quoted at. */
function loudestParts(view: SettingView, distortion: Distortion): Part[] {
  const bad = distortion.rungs.map(({ curve, driveDb }) => isBadRung(view.bad, curve, driveDb));
  const rung = loudestTrustedRung(distortion, bad);
  if (rung < 0) return [];
  const quoted = quotedThd(distortion, rung);
  const highest = highestThd(distortion, rung);
  if (!highest) return [];
  const above = distortion.rungs[rung].driveDb - distortion.rungs[0].driveDb;
  const run = distortion.rungs.length < 2 ? 'the one run' : `the run at ${formatDrive(above)}`;
  const others = quoted
    .filter(({ band }) => band !== highest.band)
    .slice(0, 4)
    .map(({ hz, percent }) => `${formatPercent(percent)} at ${formatHz(hz)}`);
  return [
    `in ${run}${bad[rung] ? ' (a bad capture)' : ''} THD is highest at ${formatHz(highest.hz)}, `,
    { key: formatPercent(highest.percent) },
    `${highest.order === undefined ? '' : `, mostly ${ordinal(highest.order)} harmonic`}${others.length > 0 ? `; it is ${formatList(others)}` : ''}.`,
  ];
}

function highestThd(
  { bandsHz, thdPercent, trusted, harmonics }: Distortion,
  rung: number,
): { hz: number; band: number; percent: number; order?: number } | undefined {
  let band = -1;
  thdPercent[rung].forEach((percent, k) => {
    if (percent !== null && trusted[rung][k] && (band < 0 || percent > (thdPercent[rung][band] as number))) band = k;
  });
  if (band < 0) return undefined;
  const levels = harmonics.flatMap(({ order, levelDb }) => {
    const level = levelDb[rung][band];
    return level === null ? [] : [{ order, level }];
  });
  const strongest = levels.length > 0 ? levels.reduce((a, b) => (b.level > a.level ? b : a)) : undefined;
  return { hz: nominalHz(bandsHz[band]), band, percent: thdPercent[rung][band] as number, order: strongest?.order };
}

/** THD that stays below a percentage, for the table at a glance. */
export function cleanText({ distortion }: SettingView, percent: number): string | null {
  const pass = distortion?.passes.find((one) => one.percent === percent);
  const clean = distortion && pass ? cleanRange(distortion, pass) : undefined;
  if (!distortion || !pass) return null;
  if (!clean) return pass.reached.some(Boolean) ? 'nowhere' : null;
  const { lowHz, highHz } = clean.best;
  return `${lowHz === highHz ? formatHz(lowHz) : formatHzRange(lowHz, highHz)} ${upTo(clean.best)}`;
}
