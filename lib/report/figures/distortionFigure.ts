import type { Distortion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { isBadRung } from '../captures';
import { distortionMap } from '../charts/distortionMap';
import { rungLabels } from '../charts/rungAxis';
import { formatDb, formatHz, formatList, formatPercent, formatShort, NO_BREAK } from '../format';
import type { TableCell } from '../html/dataTable';
import { namedOf, type SettingView } from '../session';
import { firstPasses } from '../verdict/distortionFacts';
import { formatDrive } from '../verdict/drive';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

/** What every figure of distortion holds for. */
export const IN_THIS_ROOM = 'as measured in this room, at the microphone';

/** THD over frequency and drive, laid out as the map of compression. */
export function distortionFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { distortion, ladder } = view;
  if (!distortion || distortion.rungs.length < 2 || distortion.bandsHz.length === 0) return undefined;
  const bad = badRungs(view, distortion);
  const labels = rungLabels(drivesOf(distortion), bad);
  const beside = ladder && ladder.rungs.length > 1;
  const trusted = distortion.trusted.flat();
  const first = firstPasses(distortion).map(
    ({ percent, hz, driveDb }) =>
      `${formatShort(percent)}${NO_BREAK}% is passed first at ${formatHz(hz)}, from ${formatDrive(driveDb)}`,
  );
  return {
    id: `fig-distortion-${index}`,
    kind: 'distortion',
    title: `Distortion${namedOf(view)}`,
    caption: `THD (harmonics 2 to ${distortion.thdToOrder}) in percent of the fundamental${namedOf(view)}, for each third-octave band and each run, ${IN_THIS_ROOM}. ${beside ? 'Bands and runs lie as in the map of compression, so that both can be read at the same drive and band. ' : ''}Hatched cells have no value that can be trusted.`,
    text: `${first.length > 0 ? `${formatList(first)}.` : 'No percentage asked for is passed in a trusted band.'} ${trusted.filter(Boolean).length} of ${trusted.length} values can be trusted.`,
    build: distortionMap(distortion, drawn.rangeHz, { besidesHz: ladder?.bandsHz, bad }),
    table: {
      caption: `THD in % ${beside ? 'and, behind it, compression in dB ' : ''}by band and drive above the quietest run${namedOf(view)}; an asterisk marks untrusted values`,
      head: ['Band in Hz', ...labels.map((label) => label.replace(/( ×)?$/, ' dB$1'))],
      rows: distortion.bandsHz.map((hz, band) => [
        String(nominalHz(hz)),
        ...distortion.rungs.map((_, k) => bothText(view, distortion, k, band)),
      ]),
    },
  };
}

/** Drives of the rungs, dB above the quietest. */
export function drivesOf({ rungs }: Distortion): number[] {
  return rungs.map(({ driveDb }) => driveDb - rungs[0].driveDb);
}

/** Which rungs rest on bad captures. */
export function badRungs(view: SettingView, { rungs }: Distortion): boolean[] {
  return rungs.map(({ curve, driveDb }) => isBadRung(view.bad, curve, driveDb));
}

/** THD of a cell, with what is lost of the drive there where that is known. */
function bothText(view: SettingView, distortion: Distortion, rung: number, band: number): TableCell {
  const percent = distortion.thdPercent[rung][band];
  const thd = percent === null ? '–' : `${formatPercent(percent)}${distortion.trusted[rung][band] ? '' : '*'}`;
  const { ladder } = view;
  if (!ladder || ladder.rungs.length < 2) return percent === null ? null : thd;
  const at = ladder.rungs.findIndex(({ driveDb }) => driveDb === distortion.rungs[rung].driveDb);
  const column = ladder.bandsHz.findIndex((hz) => nominalHz(hz) === nominalHz(distortion.bandsHz[band]));
  const loss = ladder.compressionDb[at]?.[column] ?? null;
  const lost = loss === null ? '–' : `${formatDb(loss)}${ladder.trusted[at][column] ? '' : '*'}`;
  return percent === null && loss === null ? null : `${thd}; ${lost}`;
}
