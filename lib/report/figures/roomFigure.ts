import { trustOf } from '../../analysis/conclusions/trustOf';
import type { RoomFeature } from '../../model/findings';
import { makeCurve } from '../../model/makeCurve';
import type { ReportWords } from '../../words/reportWords';
import { drawCurve } from '../charts/drawCurve';
import type { DrawnLine } from '../charts/drawnLine';
import { levelRange } from '../charts/levelRange';
import { roomChart } from '../charts/roomChart';
import { plainName } from '../text';
import { type DrawnSession, marked, trustedLevels } from './drawnSession';
import type { Figure } from './figure';

/** Features are looked for after smoothing over 1/24 octave, so they are shown so. */
const FEATURE_FRACTION = 24;

/** Room below the lowest curve, dB. */
const CAUSES_DB = 8;

/** The room's prediction beside what was seen. */
export function roomFigure(drawn: DrawnSession): Figure | undefined {
  const { findings, scale, words } = drawn.session;
  const { room } = words.figure;
  const features = findings.roomFeatures ?? [];
  const prediction = findings.roomPrediction;
  if (features.length === 0 && !prediction) return undefined;
  const { rangeHz } = drawn;
  const seen = seenLines(drawn);
  if (seen.length === 0 && !prediction) return undefined;
  const levels = trustedLevels(seen);
  const predicted = prediction
    ? drawCurve(makeCurve({ frequencyHz: prediction.frequencyHz, levelDb: prediction.levelDb }), '', {
        rangeHz,
        fraction: 48,
        trusted: () => true,
      })
    : undefined;
  return {
    id: 'fig-room',
    kind: 'room',
    title: room.title,
    caption: room.caption(predicted !== undefined),
    text: room.text(
      features.length === 0
        ? [room.none]
        : features.map((one) =>
            room.feature(one.kind, one.frequencyHz, one.depthDb, room.owner[one.belongsTo], causeWords(one, words)),
          ),
    ),
    build: roomChart({
      seen,
      predicted,
      features,
      scale,
      rangeHz,
      // below the curves stands what dips and peaks come from
      level: levelRange([...levels, Math.min(...levels) - CAUSES_DB], { mostDb: 50 }),
      predictedLevel: levelRange(trustedLevels(predicted ? [predicted] : []), { mostDb: 50, mostSteps: 5 }),
    }),
    table: featureTable(features, words),
  };
}

function seenLines(drawn: DrawnSession): DrawnLine[] {
  return drawn.settings.flatMap(({ view }) => {
    const curve = view.judged;
    if (!curve) return [];
    const line = drawCurve(curve, view.name, {
      rangeHz: drawn.rangeHz,
      fraction: FEATURE_FRACTION,
      trusted: trustOf(curve, view.ladder),
    });
    return line.points.length > 0 ? [marked(line, view.bad.curves.has(curve.id))] : [];
  });
}

/** What a feature comes from, as far as it is known. */
function causeWords({ cause }: RoomFeature, { figure }: ReportWords): string {
  const { room } = figure;
  const name = room.cause[cause.type];
  const detail = cause.detail ? room.causeWith(name, plainName(cause.detail)) : name;
  return cause.predictedHz === undefined ? detail : room.predicted(detail, cause.predictedHz);
}

function featureTable(features: RoomFeature[], words: ReportWords): Figure['table'] {
  const { room } = words.figure;
  return {
    caption: room.tableCaption,
    head: room.head,
    decimals: [1, 1, 1, 2, 1, 1, 2],
    rows: features.map((feature) => [
      words.say.hz(feature.frequencyHz),
      room.kinds[feature.kind],
      feature.depthDb,
      feature.widthOctaves,
      room.ownerCell[feature.belongsTo],
      causeWords(feature, words),
      feature.confidence,
      room.seenIn(feature.seenIn, feature.of),
    ]),
  };
}
