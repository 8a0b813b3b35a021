import { isBadRung } from '../../analysis/conclusions/captureViews';
import { nominalHz } from '../../model/octaves';
import { compressionMap } from '../charts/compressionMap';
import { HEAT_IN_FULL, HEAT_LIMITS_DB } from '../charts/palette';
import { rungLabels } from '../charts/rungAxis';
import { onsetsOf } from '../onsetsOf';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

/** Compression over frequency and drive. */
export function mapFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { ladder, name } = view;
  if (!ladder || ladder.rungs.length < 2 || ladder.bandsHz.length === 0) return undefined;
  const { words } = drawn.session;
  const { map } = words.figure;
  const trusted = ladder.trusted.flat();
  const bad = ladder.rungs.map(({ id, driveDb }) => isBadRung(view.bad, id, driveDb));
  const labels = rungLabels(
    words,
    ladder.rungs.map(({ driveDb }) => driveDb),
    bad,
  );
  return {
    id: `fig-map-${index}`,
    kind: 'map',
    title: map.title(name),
    caption: map.caption(HEAT_LIMITS_DB[HEAT_IN_FULL]),
    text: map.text([
      ...onsetsOf(view).map(({ compressionDb, hz, driveDb }) => map.onset(compressionDb, hz, driveDb)),
      map.trusted(trusted.filter(Boolean).length, trusted.length),
    ]),
    build: compressionMap(ladder, drawn.rangeHz, { besidesHz: view.distortion?.bandsHz, bad }),
    table: {
      caption: map.tableCaption(name),
      head: [words.figure.bandHead, ...labels.map((label) => map.driveHead(label))],
      rows: ladder.bandsHz.map((hz, band) => [
        String(nominalHz(hz)),
        ...ladder.rungs.map((_, k) => {
          const value = ladder.compressionDb[k][band];
          return value === null || ladder.trusted[k][band] ? value : `${words.say.number(value, 1)}*`;
        }),
      ]),
    },
  };
}
