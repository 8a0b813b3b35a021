import type { Curve, Interval } from '../../model/curve';
import type { BandFit, Findings } from '../../model/findings';
import { thinForScreen } from '../../response/thinForScreen';
import { makeRefusal } from '../../words/makeRefusal';
import { reportWords } from '../../words/reportWords';
import type { DrawnLine } from '../charts/drawnLine';
import type { Frame } from '../charts/frame';
import { seenChart } from '../charts/seenChart';
import { type ChartOptions, settleChart } from './chartOptions';
import { pictureSvg } from './pictureSvg';

/** What a node did to curves, and what to compare it with. */
export interface SeenInput {
  before: Curve[];
  after: Curve[];
  pinned: Curve[];
  /** Of these a band fit of one of the curves and the room's dips are drawn in. */
  findings?: Findings;
  /** Default: all that went out. */
  rangeHz?: Interval;
}

/** Where the plot lies in the picture, px, and what its lower edge stands for. */
export interface Plot {
  widthPx: number;
  heightPx: number;
  leftPx: number;
  rightPx: number;
  topPx: number;
  bottomPx: number;
  lowHz: number;
  highHz: number;
  /** Of the upright axis, dB. */
  lowDb: number;
  highDb: number;
}

/** Curves on one axis: levels as they were measured, or one of the kinds that have no level. */
const ALIKE: Curve['role'][][] = [['response', 'noise'], ['correction'], ['harmonic']];

/**
 * Draw what a node did to curves: what came in thin, what went out bold.
 *
 * @returns the picture, where its plot lies, so that a place in it can be told as frequency and level, and what there is
 * to see in words.
 * @throws BassloomError `nothing-to-draw` where there is no curve, `bad-option`.
 */
export function drawSeen(input: SeenInput, options: ChartOptions = {}): { svg: string; plot: Plot; text: string } {
  const settled = settleChart({ ...options, title: '' });
  const words = reportWords(settled.locale);
  const all = [...input.after, ...input.before, ...input.pinned];
  const roles = ALIKE.find((wanted) => all.some(({ role }) => wanted.includes(role))) ?? [];
  const scale = all.find(({ role }) => roles.includes(role))?.scale ?? 'relative';
  const alike = (curves: Curve[]) =>
    curves.filter((one) => roles.includes(one.role) && one.scale === scale && one.frequencyHz.length > 1);
  const [after, noise] = parted(alike(input.after), ({ role }) => role !== 'noise');
  const ids = new Set([...after, ...noise].map(({ id }) => id));
  const before = alike(input.before).filter(({ id, role }) => role !== 'noise' && !ids.has(id));
  const pinned = alike(input.pinned);
  const main = [after, noise, before, pinned].find(({ length }) => length > 0);
  if (!main) throw makeRefusal('nothing-to-draw', { kind: null, view: null, setting: null });
  const rangeHz = input.rangeHz ?? [
    Math.min(...main.map(({ frequencyHz }) => frequencyHz[0])),
    Math.max(...main.map(({ frequencyHz }) => frequencyHz[frequencyHz.length - 1])),
  ];
  // two points to every other px keep each dip and peak in sight
  const line = (curve: Curve) => lineOf(curve, settled.widthPx);
  let frame!: Frame;
  const build = seenChart({
    ...{
      before: before.map(line),
      after: after.map(line),
      pinned: pinned.map(line),
      noise: noise.map(line),
      scale,
      rangeHz,
    },
    isHarmonic: roles.includes('harmonic'),
    fit: fitOf(ids, input.findings?.bandFit),
    dips: (input.findings?.roomFeatures ?? []).filter((one) => one.kind === 'dip' && one.belongsTo === 'room'),
  });
  const { curves } = words.figure;
  const text = curves.text(main.map(({ label }) => label));
  const figure = { title: curves.title, text, build: seen };
  const { svg, left, top, zoom } = pictureSvg(figure, settled, words);
  function seen(...given: Parameters<typeof build>): ReturnType<typeof build> {
    const chart = build(...given);
    frame = chart.frame;
    return chart;
  }
  return { svg, plot: plotOf(frame, { left, top, zoom }, settled), text };
}

/** Those that a condition holds for, and the others. */
function parted<T>(all: T[], isSo: (one: T) => boolean): [T[], T[]] {
  return [all.filter(isSo), all.filter((one) => !isSo(one))];
}

function lineOf(curve: Curve, most: number): DrawnLine {
  const { frequencyHz, levelDb } = thinForScreen(curve, most);
  return { label: curve.label, points: frequencyHz.map((hz, i) => ({ hz, value: levelDb[i], trusted: true })) };
}

/** Windows of several curves would cover each other. */
function fitOf(ids: Set<string>, fits: BandFit[] = []): BandFit | undefined {
  const own = fits.filter(({ curve }) => ids.has(curve));
  return own.length === 1 ? own[0] : undefined;
}

function plotOf(
  frame: Frame,
  { left, top, zoom }: { left: number; top: number; zoom: number },
  { widthPx, heightPx }: { widthPx: number; heightPx: number },
): Plot {
  const x = (px: number) => (px + left) * zoom;
  const y = (px: number) => (px + top) * zoom;
  return {
    widthPx,
    heightPx,
    leftPx: x(frame.left),
    rightPx: x(frame.right),
    topPx: y(frame.top),
    bottomPx: y(frame.bottom),
    lowHz: frame.rangeHz[0],
    highHz: frame.rangeHz[1],
    lowDb: frame.level.min,
    highDb: frame.level.max,
  };
}
