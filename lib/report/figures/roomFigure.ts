import type { RoomFeature } from '../../model/findings';
import { makeCurve } from '../../model/makeCurve';
import { drawCurve } from '../charts/drawCurve';
import type { DrawnLine } from '../charts/drawnLine';
import { levelRange } from '../charts/levelRange';
import { roomChart } from '../charts/roomChart';
import { formatHertz, formatHz, NO_BREAK } from '../format';
import { plainName } from '../text';
import { trustOf } from '../trust';
import { badWords, type DrawnSession, marked } from './drawnSession';
import type { Figure } from './figure';

/** Features are looked for after smoothing over 1/24 octave, so they are shown so. */
const FEATURE_FRACTION = 24;

/** The room's prediction beside what was seen. */
export function roomFigure(drawn: DrawnSession): Figure | undefined {
  const { findings, scale } = drawn.session;
  const features = findings.roomFeatures ?? [];
  const prediction = findings.roomPrediction;
  if (features.length === 0 && !prediction) return undefined;
  const { rangeHz } = drawn;
  const seen = seenLines(drawn);
  if (seen.length === 0 && !prediction) return undefined;
  const predicted = prediction
    ? drawCurve(makeCurve({ frequencyHz: prediction.frequencyHz, levelDb: prediction.levelDb }), 'predicted', {
        rangeHz,
        fraction: 48,
        trusted: () => true,
      })
    : undefined;
  const levels = (lines: DrawnLine[]): number[] =>
    lines.flatMap((line) => line.points.filter((point) => point.trusted).map((point) => point.value));
  const schroeder = prediction?.schroederHz
    ? ` Above its Schroeder frequency of ${formatHz(prediction.schroederHz)} a room cannot be predicted mode by mode.`
    : '';
  return {
    id: 'fig-room',
    kind: 'room',
    title: 'The room: predicted and seen',
    caption: `${seen.length > 0 ? 'Above: the run that each setting is judged by, with dips shaded and peaks marked. ' : ''}${prediction ? `Below: what the room${prediction.room ? ` (${plainName(prediction.room)})` : ''} alone would do between source and microphone.${schroeder}` : 'No room was described, so nothing is predicted.'}${badWords(seen)}`,
    text: featureWords(features) || 'No dips or peaks were found.',
    build: roomChart({
      seen,
      predicted,
      features,
      scale,
      rangeHz,
      level: levelRange(levels(seen), { mostDb: 50 }),
      predictedLevel: levelRange(levels(predicted ? [predicted] : []), { mostDb: 50, mostSteps: 5 }),
    }),
    table: featureTable(features),
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

function featureWords(features: RoomFeature[]): string {
  return features
    .map(
      (feature) =>
        `A ${feature.kind} at ${formatHz(feature.frequencyHz)}, ${feature.depthDb.toFixed(1)}${NO_BREAK}dB: ${causeWords(feature)}.`,
    )
    .join(' ');
}

/** What a feature comes from, as far as it is known. */
export function causeWords({ cause }: RoomFeature): string {
  const names: Record<RoomFeature['cause']['type'], string> = {
    mode: 'mode',
    interference: 'interference of modes',
    boundary: 'reflection from a boundary',
    signature: 'the learned signature of the room',
    listed: 'listed by the user',
    unexplained: 'unexplained',
  };
  const detail = cause.detail ? `${names[cause.type]} (${plainName(cause.detail)})` : names[cause.type];
  return cause.predictedHz === undefined ? detail : `${detail}, predicted at ${formatHz(cause.predictedHz)}`;
}

function featureTable(features: RoomFeature[]): Figure['table'] {
  return {
    caption: 'Dips and peaks of the room',
    head: ['Frequency', 'Kind', 'Depth or height in dB', 'Width in octaves', 'Cause', 'Confidence', 'Seen in runs'],
    decimals: [1, 1, 1, 2, 1, 2],
    rows: features.map((feature) => [
      `${formatHertz(feature.frequencyHz)} Hz`,
      feature.kind,
      feature.depthDb,
      feature.widthOctaves,
      causeWords(feature),
      feature.confidence,
      `${feature.seenIn} of ${feature.of}`,
    ]),
  };
}
