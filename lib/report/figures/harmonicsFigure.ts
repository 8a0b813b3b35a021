import { loudestTrustedRung } from '../../analysis/conclusions/highestThd';
import type { Distortion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import type { ReportWords } from '../../words/reportWords';
import type { DrawnLine } from '../charts/drawnLine';
import { harmonicsChart, type PartedLine } from '../charts/harmonicsChart';
import { bandEdges } from '../charts/heatMap';
import { levelRange } from '../charts/levelRange';
import type { DataTable } from '../html/dataTable';
import { ratioDb } from '../ratioDb';
import type { SettingView } from '../session';
import { badRungs } from './distortionFigure';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

/** Orders with a line of their own; the table and the files hold all. */
const DRAWN_TO_ORDER = 5;

/** Bands whose THD is told in words, Hz. */
const TOLD_HZ = [20, 31.5, 40, 63];

/** THD and single harmonics of the loudest run that can be trusted. */
export function harmonicsFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { distortion, name } = view;
  const rung = distortion ? shownRung(view, distortion) : -1;
  if (!distortion || rung < 0) return undefined;
  const { words } = drawn.session;
  const { figure, chart } = words;
  const line = (label: string, levels: (number | null)[]): PartedLine => ({
    label,
    pieces: pieces(distortion, rung, levels, label),
  });
  const thd = distortion.thdPercent[rung].map(levelOfPercent);
  const noise = distortion.noisePercent[rung].map(levelOfPercent);
  const drawnOrders = distortion.harmonics.filter(({ order }) => order <= DRAWN_TO_ORDER);
  const harmonics = drawnOrders.map(({ order, levelDb }) => line(chart.harmonic(order), levelDb[rung]));
  const parts = { thd: line(chart.thd, thd), noise: firm(line(chart.noiseAlone, noise)), harmonics };
  const levels = [parts.thd, ...harmonics].flatMap(valuesOf);
  if (levels.length === 0) return undefined;
  const percents = distortion.passes.map(({ percent }) => percent);
  const quoted = TOLD_HZ.flatMap((hz) => {
    const band = distortion.bandsHz.findIndex((centre) => nominalHz(centre) === hz);
    const percent = distortion.thdPercent[rung][band] ?? null;
    return percent === null || !distortion.trusted[rung][band] ? [] : [figure.harmonics.quoted(percent, hz)];
  });
  return {
    id: `fig-harmonics-${index}`,
    kind: 'harmonics',
    title:
      distortion.rungs.length < 2
        ? figure.harmonics.titleOne(name)
        : figure.harmonics.title(figure.run(distortion.rungs[rung].driveDb), name),
    caption: figure.harmonics.caption,
    text: figure.harmonics.text(quoted, levels.length),
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
    table: harmonicsTable(distortion, rung, words),
  };
}

/** The run that THD is told of; where none is named, the one that tells most. */
function shownRung(view: SettingView, distortion: Distortion): number {
  const told = view.conclusion?.highestThd?.curve;
  const at = distortion.rungs.findIndex(({ curve }) => curve === told);
  return at >= 0 ? at : loudestTrustedRung(distortion, badRungs(view, distortion));
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

function harmonicsTable(distortion: Distortion, rung: number, { figure, say }: ReportWords): DataTable {
  return {
    caption: figure.harmonics.tableCaption,
    head: figure.harmonics.head(distortion.harmonics.map(({ order }) => order)),
    rows: distortion.bandsHz.map((hz, band) => {
      const mark = distortion.trusted[rung][band] ? '' : '*';
      const [thd, noise] = [distortion.thdPercent[rung][band], distortion.noisePercent[rung][band]];
      return [
        String(nominalHz(hz)),
        distortion.levelDb[rung][band],
        thd === null ? null : `${say.percent(thd)}${mark}`,
        noise === null ? null : say.percent(noise),
        ...distortion.harmonics.map(({ levelDb }) => levelDb[rung][band]),
      ];
    }),
  };
}
