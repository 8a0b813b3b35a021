import type { Ladder } from '../../model/findings';

/** A run that lost more than this in a band does not show what the unit does when it is not driven hard, dB. */
const MOST_COMPRESSION_DB = 0.5;
const WANTED_SNR_DB = 20;
/** Where subwoofers are judged, Hz. */
const LOWEST_HZ = 10;
const HIGHEST_HZ = 200;

/**
 * Say of each rung in which bands it shows the unit itself: trusted, 20 dB clear of the noise, and less than 0.5 dB
 * lost to compression. Of a ladder that reaches into 10 to 200 Hz, only the bands there count.
 *
 * @returns [rung][band].
 */
export function soundBands(ladder: Ladder): boolean[][] {
  const isJudged = ladder.bandsHz.map((hz) => hz > LOWEST_HZ * 0.99 && hz < HIGHEST_HZ * 1.01);
  const counts = isJudged.includes(true) ? isJudged : isJudged.map(() => true);
  return ladder.rungs.map((_, rung) =>
    counts.map((isCounted, band) => {
      const snrDb = ladder.snrDb[rung][band];
      const lossDb = ladder.compressionDb[rung][band];
      if (!isCounted || !ladder.trusted[rung][band]) return false;
      if (snrDb !== null && snrDb < WANTED_SNR_DB) return false;
      return lossDb !== null && Math.abs(lossDb) < MOST_COMPRESSION_DB;
    }),
  );
}
