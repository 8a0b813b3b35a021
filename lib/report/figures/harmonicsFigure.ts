import type { Distortion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { BAD_MARK } from '../captures';
import type { DrawnLine } from '../charts/drawnLine';
import { harmonicsChart, type PartedLine } from '../charts/harmonicsChart';
import { bandEdges } from '../charts/heatMap';
import { levelRange } from '../charts/levelRange';
import { formatDb, formatHz, formatList, formatPercent, NO_BREAK, ratioDb } from '../format';
import type { DataTable } from '../html/dataTable';
import { namedOf, type SettingView } from '../session';
import { loudestTrustedRung, quotedThd } from '../verdict/distortionFacts';
import { formatDrive } from '../verdict/drive';
import { ordinal } from '../verdict/rangeSentences';
import { badRungs, drivesOf, IN_THIS_ROOM } from './distortionFigure';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

/** Orders with a line of their own; the table and the files hold all. */
const DRAWN_TO_ORDER = 5;

/** THD and single harmonics of the loudest run that can be trusted. */
export function harmonicsFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { distortion } = view;
  const rung = distortion ? loudestTrustedRung(distortion, badRungs(view, distortion)) : -1;
  if (!distortion || rung < 0) return undefined;
  const run = runName(view, distortion, rung);
  const line = (label: string, levels: (number | null)[]): PartedLine => ({
    label,
    pieces: pieces(distortion, rung, levels, label),
  });
  const thd = distortion.thdPercent[rung].map(levelOfPercent);
  const noise = distortion.noisePercent[rung].map(levelOfPercent);
  const drawnOrders = distortion.harmonics.filter(({ order }) => order <= DRAWN_TO_ORDER);
  const harmonics = drawnOrders.map(({ order, levelDb }) => line(`${ordinal(order)} harmonic`, levelDb[rung]));
  const parts = { thd: line('THD', thd), noise: firm(line('noise alone', noise)), harmonics };
  const levels = [parts.thd, ...harmonics].flatMap(valuesOf);
  if (levels.length === 0) return undefined;
  const percents = distortion.passes.map(({ percent }) => percent);
  const quoted = quotedThd(distortion, rung).map(({ hz, percent }) => `${formatPercent(percent)} at ${formatHz(hz)}`);
  return {
    id: `fig-harmonics-${index}`,
    kind: 'harmonics',
    title: `Harmonics of ${run}${namedOf(view)}`,
    caption: `THD and the harmonics it is made of in ${run}${namedOf(view)}, below the fundamental, over the frequency of the fundamental, ${IN_THIS_ROOM}. ${MINUS_20} is 10${NO_BREAK}%, ${MINUS_40} is 1${NO_BREAK}%. Rings and dotted lines are not to be trusted; the thin grey line is what noise alone would read as THD.`,
    text: quoted.length > 0 ? `THD is ${formatList(quoted)}.` : `${levels.length} values of THD and harmonics.`,
    build: harmonicsChart({
      ...parts,
      percents,
      rangeHz: bandEdges([...distortion.bandsHz, ...(view.ladder?.bandsHz ?? [])], drawn.rangeHz),
      level: levelRange([...levels, ...percents.map(ratioDb)], {
        mostDb: 80,
        leastDb: 30,
        headDb: 3,
        stepsDb: [5, 10, 20],
      }),
    }),
    table: harmonicsTable(distortion, rung, run),
  };
}

const MINUS_20 = formatDb(-20, 0);
const MINUS_40 = formatDb(-40, 0);

function runName(view: SettingView, distortion: Distortion, rung: number): string {
  const mark = badRungs(view, distortion)[rung] ? ` (${BAD_MARK} bad capture)` : '';
  if (distortion.rungs.length < 2) return `the one run${mark}`;
  return `the run at ${formatDrive(drivesOf(distortion)[rung])}${mark}`;
}

function levelOfPercent(percent: number | null): number | null {
  return percent === null || !(percent > 0) ? null : ratioDb(percent);
}

function pieces({ bandsHz, trusted }: Distortion, rung: number, levels: (number | null)[], label: string): DrawnLine[] {
  const parted: DrawnLine[] = [];
  let open: DrawnLine | undefined;
  levels.forEach((value, band) => {
    if (value === null || !Number.isFinite(value)) {
      open = undefined;
      return;
    }
    if (!open) {
      open = { label, points: [] };
      parted.push(open);
    }
    open.points.push({ hz: bandsHz[band], value, trusted: trusted[rung][band] });
  });
  return parted;
}

/** Noise is what it is: no part of its line is less trusted than another. */
function firm({ label, pieces }: PartedLine): PartedLine {
  const points = (line: DrawnLine) => line.points.map((point) => ({ ...point, trusted: true }));
  return { label, pieces: pieces.map((line) => ({ ...line, points: points(line) })) };
}

function valuesOf({ pieces }: PartedLine): number[] {
  return pieces.flatMap(({ points }) => points.map(({ value }) => value));
}

function harmonicsTable(distortion: Distortion, rung: number, run: string): DataTable {
  return {
    caption: `THD in %, what noise alone would read as THD in %, and harmonics in dB re the fundamental, in ${run}; an asterisk marks untrusted values`,
    head: [
      'Band in Hz',
      'Fundamental in dB',
      'THD in %',
      'Noise in %',
      ...distortion.harmonics.map(({ order }) => `${ordinal(order)} in dB`),
    ],
    rows: distortion.bandsHz.map((hz, band) => {
      const mark = distortion.trusted[rung][band] ? '' : '*';
      const [thd, noise] = [distortion.thdPercent[rung][band], distortion.noisePercent[rung][band]];
      return [
        String(nominalHz(hz)),
        distortion.levelDb[rung][band],
        thd === null ? null : `${formatPercent(thd)}${mark}`,
        noise === null ? null : formatPercent(noise),
        ...distortion.harmonics.map(({ levelDb }) => levelDb[rung][band]),
      ];
    }),
  };
}
