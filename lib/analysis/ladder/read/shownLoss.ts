import type { Fit } from '../breaks/findFit';
import { type Cells, spread } from '../cells';
import type { Counted } from './countCells';

/** Compression as it is shown, [rung][band], NaN for none: as counted, and of a rung that is off as it was measured. */
export function shownLoss(
  asMeasured: Cells,
  { judged, shown }: Fit,
  { compression, references, levels, scale }: Counted,
): number[][] {
  const { driveDb, levelDb, bandsHz } = asMeasured;
  const none = bandsHz.map(() => Number.NaN);
  return spread(compression.lossDb, judged, driveDb.length, none).map((row, rung) =>
    row.map((loss, band) => {
      const from = references[band];
      if (!shown.includes(rung) || from === null || rung < judged[from] || Number.isFinite(loss)) return loss;
      const drive = scale * (driveDb[rung] - driveDb[judged[from]]);
      return levels[band].levelDb + drive - levelDb[rung][band];
    }),
  );
}
