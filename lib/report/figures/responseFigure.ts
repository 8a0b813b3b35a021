import { nominalHz, thirdOctaveCentres } from '../../model/octaves';
import { responseChart } from '../charts/responseChart';
import { formatDb, formatHz, formatHzRange, formatList, formatShort, NO_BREAK } from '../format';
import { namedOf } from '../session';
import { nameRun } from '../verdict/drive';
import { badWords, DRAWN_FRACTION, type DrawnSession, type DrawnSetting, valueAt } from './drawnSession';
import type { Figure } from './figure';
import { pickEvenly } from './pickRungs';

const MOST_LINES = 4;

/** Responses of a setting with the window drawn in and the room's dips shaded. */
export function responseFigure(drawn: DrawnSession, { view, lines }: DrawnSetting, index: number): Figure | undefined {
  if (lines.every((line) => line.points.length === 0)) return undefined;
  const { fit } = view;
  const main = fit
    ? view.curves.findIndex((curve) => curve.id === fit.curve || curve.about.driveDb === fit.about.driveDb)
    : -1;
  const picks = pickEvenly(lines.length, Math.max(main, 0), MOST_LINES);
  const picked = picks.map((rank) => ({ ...lines[rank], rank, main: rank === main }));
  const features = (drawn.session.findings.roomFeatures ?? []).filter(
    ({ kind, cause }) => kind === 'dip' && cause.type !== 'unexplained',
  );
  const named = namedOf(view);
  const dips =
    features.length > 0
      ? ` The room's dips at ${formatList(features.map((one) => formatHz(one.frequencyHz)))} are shaded.`
      : '';
  const points = (fit?.points ?? []).flatMap(({ downDb, lowHz }) =>
    lowHz === null ? [] : [`${formatShort(downDb)}${NO_BREAK}dB down at ${formatHz(lowHz)}`],
  );
  const window = fit
    ? ` ${capitalRun(nameRun(view, fit.about.driveDb))} stays within a window from ${formatDb(fit.floorDb)} to ${formatDb(fit.ceilingDb)} over ${formatHzRange(fit.lowHz, fit.highHz)}${points.length > 0 ? `; it is ${formatList(points)}` : ''}.`
    : '';
  return {
    id: `fig-response-${index}`,
    kind: 'response',
    title: `Response${named}`,
    caption: `Response${named} at ${lines.length === 1 ? 'its one drive level' : `${picked.length} of ${lines.length} drive levels, counted from the quietest run`}.${window} Drawn after smoothing over 1/${DRAWN_FRACTION} octave.${badWords(picked)}`,
    text: `${picked.length === 1 ? 'One line' : `${picked.length} lines`} over frequency.${window}${dips}${badWords(picked)}`,
    build: responseChart({ ...drawn, lines: picked, ranks: lines.length, fit, features, scale: drawn.session.scale }),
    table: {
      caption: `Levels in dB of the lines drawn, read at third-octave frequencies${named}`,
      head: ['Frequency in Hz', ...picked.map((line) => line.label)],
      rows: thirdOctaveCentres(...drawn.rangeHz).map((hz) => [
        String(nominalHz(hz)),
        ...picked.map((line) => valueAt(line, hz)),
      ]),
    },
  };
}

function capitalRun(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
