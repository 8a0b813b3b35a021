import type { Distortion } from '../../model/findings';
import { nominalHz } from '../../model/octaves';
import { BAD_MARK, isBadRung } from '../captures';
import { ceilingChart } from '../charts/ceilingChart';
import { distortionMap } from '../charts/distortionMap';
import type { DrawnLine } from '../charts/drawnLine';
import { harmonicsChart, type PartedLine } from '../charts/harmonicsChart';
import { bandEdges } from '../charts/heatMap';
import { levelRange } from '../charts/levelRange';
import { driveText, rungLabels } from '../charts/rungAxis';
import { formatDb, formatHz, formatList, formatNumber, formatPercent, formatShort, NO_BREAK, ratioDb } from '../format';
import type { DataTable, TableCell } from '../html/dataTable';
import type { SettingView } from '../session';
import { firstPasses, loudestTrustedRung, quotedThd } from '../verdict/distortionFacts';
import { formatDrive } from '../verdict/drive';
import { ordinal } from '../verdict/rangeSentences';
import type { DrawnSession, DrawnSetting } from './drawnSession';
import type { Figure } from './figure';

/** Orders with a line of their own; the table and the files hold all. */
const DRAWN_TO_ORDER = 5;

const IN_THIS_ROOM = 'as measured in this room, at the microphone';

/** THD over frequency and drive, laid out as the map of compression. */
export function distortionFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { distortion, ladder } = view;
  if (!distortion || distortion.rungs.length < 2 || distortion.bandsHz.length === 0) return undefined;
  const bad = badRungs(view, distortion);
  const labels = rungLabels(drives(distortion), bad);
  const beside = ladder && ladder.rungs.length > 1;
  const trusted = distortion.trusted.flat();
  const first = firstPasses(distortion).map(
    ({ percent, hz, driveDb }) =>
      `${formatShort(percent)}${NO_BREAK}% is passed first at ${formatHz(hz)}, from ${formatDrive(driveDb)}`,
  );
  return {
    id: `fig-distortion-${index}`,
    kind: 'distortion',
    title: `Distortion${namedOf(view)}`,
    caption: `THD (harmonics 2 to ${distortion.thdToOrder}) in percent of the fundamental${namedOf(view)}, for each third-octave band and each run, ${IN_THIS_ROOM}. ${beside ? 'Bands and runs lie as in the map of compression, so that both can be read at the same drive and band. ' : ''}Hatched cells have no value that can be trusted.`,
    text: `${first.length > 0 ? `${formatList(first)}.` : 'No percentage asked for is passed in a trusted band.'} ${trusted.filter(Boolean).length} of ${trusted.length} values can be trusted.`,
    build: distortionMap(distortion, drawn.rangeHz, { besidesHz: ladder?.bandsHz, bad }),
    table: {
      caption: `THD in % ${beside ? 'and, behind it, compression in dB ' : ''}by band and drive above the quietest run${namedOf(view)}; an asterisk marks untrusted values`,
      head: ['Band in Hz', ...labels.map((label) => label.replace(/( ×)?$/, ' dB$1'))],
      rows: distortion.bandsHz.map((hz, band) => [
        String(nominalHz(hz)),
        ...distortion.rungs.map((_, k) => bothText(view, distortion, k, band)),
      ]),
    },
  };
}

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
  const harmonics = drawnOrders.map(({ order, levelDb }) => line(ordinal(order), levelDb[rung]));
  const parts = { thd: line('THD', thd), noise: firm(line('noise', noise)), harmonics };
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

/** The level up to which each band stays below the percentages asked for. */
export function cleanFigure(drawn: DrawnSession, { view }: DrawnSetting, index: number): Figure | undefined {
  const { distortion } = view;
  const levels = distortion?.passes.flatMap(({ levelDb }) => levelDb.filter((level) => level !== null)) ?? [];
  if (!distortion || levels.length === 0) return undefined;
  const names = distortion.passes.map(({ percent }) => `${formatShort(percent)}${NO_BREAK}%`);
  const rows = distortion.passes.map(({ levelDb, reached }, k) => ({
    name: names[k],
    bandsHz: distortion.bandsHz,
    levelDb,
    reached,
  }));
  const told = rows.map(({ name, levelDb, reached }) => {
    const words = levelDb.flatMap((level, band) =>
      level === null
        ? []
        : [`${reached[band] ? '' : 'at least '}${formatDb(level)} at ${formatHz(nominalHz(distortion.bandsHz[band]))}`],
    );
    return `${name}: ${words.length > 0 ? formatList(words) : 'not known'}`;
  });
  return {
    id: `fig-clean-${index}`,
    kind: 'clean',
    title: `Level at which THD passes ${formatList(names)}${namedOf(view)}`,
    caption: `Level of the fundamental at which THD first passes ${formatList(names)} in each third-octave band${namedOf(view)}, ${IN_THIS_ROOM}. A disc: passed there. An open triangle: cleaner up to at least that level. The numbers stand below their bands.`,
    text: `${told.join('. ')}.`,
    build: ceilingChart({
      rows,
      words: { reached: 'passed there', atLeast: 'at least: not passed' },
      scale: distortion.scale,
      rangeHz: bandEdges([...distortion.bandsHz, ...(view.ladder?.bandsHz ?? [])], drawn.rangeHz),
      level: levelRange(levels),
    }),
    table: {
      caption: `Level in dB at which THD passes a percentage, by band${namedOf(view)}; ≥ means cleaner up to at least; drives count from the quietest run`,
      head: ['Band in Hz', ...names.flatMap((name) => [`${name}: level`, `${name}: drive`])],
      rows: distortion.bandsHz.map((hz, band) => [
        String(nominalHz(hz)),
        ...distortion.passes.flatMap(({ levelDb, driveDb, reached }): TableCell[] => [
          levelDb[band] === null || reached[band] ? levelDb[band] : `≥ ${formatNumber(levelDb[band], 1)}`,
          driveDb[band] === null ? null : driveText(Number(driveDb[band].toFixed(1))),
        ]),
      ]),
    },
  };
}

const MINUS_20 = formatDb(-20, 0);
const MINUS_40 = formatDb(-40, 0);

function namedOf(view: SettingView): string {
  return view.name ? ` with ‘${view.name}’` : '';
}

function drives({ rungs }: Distortion): number[] {
  return rungs.map(({ driveDb }) => driveDb - rungs[0].driveDb);
}

/** Which rungs rest on bad captures. */
export function badRungs(view: SettingView, { rungs }: Distortion): boolean[] {
  return rungs.map(({ curve, driveDb }) => isBadRung(view.bad, curve, driveDb));
}

function runName(view: SettingView, distortion: Distortion, rung: number): string {
  const mark = badRungs(view, distortion)[rung] ? ` (${BAD_MARK} bad capture)` : '';
  if (distortion.rungs.length < 2) return `the one run${mark}`;
  return `the run at ${formatDrive(drives(distortion)[rung])}${mark}`;
}

/** THD of a cell, with what is lost of the drive there where that is known. */
function bothText(view: SettingView, distortion: Distortion, rung: number, band: number): TableCell {
  const percent = distortion.thdPercent[rung][band];
  const thd = percent === null ? '–' : `${formatPercent(percent)}${distortion.trusted[rung][band] ? '' : '*'}`;
  const { ladder } = view;
  if (!ladder || ladder.rungs.length < 2) return percent === null ? null : thd;
  const at = ladder.rungs.findIndex(({ driveDb }) => driveDb === distortion.rungs[rung].driveDb);
  const column = ladder.bandsHz.findIndex((hz) => nominalHz(hz) === nominalHz(distortion.bandsHz[band]));
  const loss = ladder.compressionDb[at]?.[column] ?? null;
  const lost = loss === null ? '–' : `${formatDb(loss)}${ladder.trusted[at][column] ? '' : '*'}`;
  return percent === null && loss === null ? null : `${thd}; ${lost}`;
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
