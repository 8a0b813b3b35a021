import type { Ladder } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { formatDb, formatHertz, formatHz, formatList, formatNumber, formatShort, NO_BREAK } from '../format';
import type { Session, SettingView } from '../session';
import { about, type Sentence } from './sentence';

/** Whether the drive steps arrive as commanded. */
export function stepSentences(view: SettingView, figure?: string): Sentence[] {
  const { ladder } = view;
  if (!ladder || ladder.rungs.length < 2) return [];
  const { measuredDb, uncertaintyDb, commandedDb, differs } = ladder.step;
  if (measuredDb === null || uncertaintyDb === null) return [];
  const measured = `${formatNumber(measuredDb, 2)} ± ${formatNumber(uncertaintyDb, 2)}${NO_BREAK}dB`;
  const commanded = `${formatShort(commandedDb, 2)}${NO_BREAK}dB`;
  const used =
    ladder.stepUsed === 'measured'
      ? 'compression was counted with the measured step'
      : `compression was counted with the commanded step and is ${measuredDb < commandedDb ? 'over' : 'under'}stated by ${formatDb(Math.abs(commandedDb - measuredDb), 2)} a step`;
  return [
    {
      topic: 'Steps',
      figure,
      warning: differs === true,
      parts: differs
        ? about(view, 'a drive step really is ', { key: measured }, ` where ${commanded} was commanded; ${used}.`)
        : about(view, 'drive steps arrive as commanded: ', { key: measured }, ` for ${commanded}.`),
    },
  ];
}

/** How much of the ladder can be trusted, and what that rests on. */
export function trustSentences(view: SettingView, figure?: string): Sentence[] {
  const { ladder } = view;
  if (!ladder) return [];
  const { trusted, total, bandsHz } = countTrusted(ladder);
  if (total === 0) return [];
  const where =
    bandsHz.length === 0
      ? ''
      : `; the others lie ${bandsHz.length === 1 ? `at ${formatHz(bandsHz[0])}` : `between ${formatHertz(bandsHz[0])} and ${formatHz(bandsHz[bandsHz.length - 1])}`} and are marked`;
  return [
    {
      topic: 'Trust',
      figure,
      warning: ladder.snrFrom === 'unknown' || trusted < total / 2,
      parts: about(
        view,
        { key: `${trusted} of ${total}` },
        ` band levels can be trusted${where}. ${SNR_WORDS[ladder.snrFrom]}`,
      ),
    },
  ];
}

const SNR_WORDS: Record<Ladder['snrFrom'], string> = {
  'noise run': 'The noise was measured in a run of its own.',
  'noise in the file': 'The noise came with the curves.',
  'scatter between rungs': 'The noise was not measured; it is estimated from the scatter between runs.',
  unknown: 'How much of it is noise is not known.',
};

/** Trusted cells of a ladder, all cells, and the nominal bands where some are not trusted. */
export function countTrusted(ladder: Ladder): { trusted: number; total: number; bandsHz: number[] } {
  const cells = ladder.trusted.flat();
  const doubtful = ladder.bandsHz.filter((_, band) => ladder.trusted.some((row) => !row[band]));
  return { trusted: cells.filter(Boolean).length, total: cells.length, bandsHz: doubtful.map(nominalHz) };
}

/** A warning where runs were not all measured in the same way. */
export function procedureSentences(session: Session): Sentence[] {
  if (session.procedures.length < 2) return [];
  const names = session.procedures.map((name) => (name ? `‘${name}’` : 'none named'));
  return [
    {
      topic: 'Warning',
      figure: 'method',
      warning: true,
      parts: [
        'The runs followed ',
        { key: `${names.length} different procedures` },
        ` (${formatList(names)}): they must not be compared with each other.`,
      ],
    },
  ];
}
