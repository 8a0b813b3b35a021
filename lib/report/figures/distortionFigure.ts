import { isBadRung } from '../../analysis/conclusions/captureViews';
import type { Distortion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { distortionMap } from '../charts/distortionMap';
import { rungLabels } from '../charts/rungAxis';
import type { TableCell } from '../html/dataTable';
import type { SettingView } from '../session';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

/** THD over frequency and drive, laid out as the map of compression. */
export function distortionFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { distortion, ladder, name } = view;
  if (!distortion || distortion.rungs.length < 2 || distortion.bandsHz.length === 0) return undefined;
  const { words } = drawn.session;
  const { figure, say } = words;
  const bad = badRungs(view, distortion);
  const labels = rungLabels(
    words,
    distortion.rungs.map(({ driveDb }) => driveDb),
    bad,
  );
  const beside = ladder !== undefined && ladder.rungs.length > 1;
  const trusted = distortion.trusted.flat();
  /** THD of a cell, with what is lost of the drive there where that is known. */
  const cell = (rung: number, band: number): TableCell => {
    const percent = distortion.thdPercent[rung][band];
    const thd = percent === null ? '–' : `${say.percent(percent)}${distortion.trusted[rung][band] ? '' : '*'}`;
    if (!beside) return percent === null ? null : thd;
    const at = ladder.rungs.findIndex(({ driveDb }) => driveDb === distortion.rungs[rung].driveDb);
    const column = ladder.bandsHz.findIndex((hz) => nominalHz(hz) === nominalHz(distortion.bandsHz[band]));
    const loss = ladder.compressionDb[at]?.[column] ?? null;
    const lost = loss === null ? '–' : `${say.db(loss)}${ladder.trusted[at][column] ? '' : '*'}`;
    return percent === null && loss === null ? null : figure.distortion.both(thd, lost);
  };
  const passes = passesOf(view).map((one) => figure.distortion.pass(one.percent, one.hz, one.driveDb));
  return {
    id: `fig-distortion-${index}`,
    kind: 'distortion',
    title: figure.distortion.title(name),
    caption: figure.distortion.caption(distortion.thdToOrder),
    text: figure.map.text([...passes, figure.map.trusted(trusted.filter(Boolean).length, trusted.length)]),
    build: distortionMap(distortion, drawn.rangeHz, { besidesHz: ladder?.bandsHz, bad }),
    table: {
      caption: figure.distortion.tableCaption(name, beside),
      head: [figure.bandHead, ...labels.map((label) => figure.map.driveHead(label))],
      rows: distortion.bandsHz.map((hz, band) => [
        String(nominalHz(hz)),
        ...distortion.rungs.map((_, k) => cell(k, band)),
      ]),
    },
  };
}

/** Where each percentage is passed first, with drives as the runs name them. */
function passesOf({ conclusion, distortion }: SettingView): { percent: number; hz: number; driveDb: number }[] {
  const lowestDb = distortion?.rungs[0]?.driveDb ?? 0;
  const passes = conclusion?.passes ?? [];
  return passes.map(({ percent, bandHz, driveDb }) => ({
    percent,
    hz: nominalHz(bandHz),
    driveDb: lowestDb + driveDb,
  }));
}

/** Which rungs rest on bad captures. */
export function badRungs(view: SettingView, { rungs }: Distortion): boolean[] {
  return rungs.map(({ curve, driveDb }) => isBadRung(view.bad, curve, driveDb));
}
