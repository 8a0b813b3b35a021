import { type Caveat, isDoubted, isUnusable } from '../../model/caveat';
import { nominalHz } from '../../model/octaves';
import type { ReportWords } from '../../words/reportWords';
import { drivenRegions } from '../figures/drawnSession';
import { breaksOf } from '../figures/ladderFigure';
import { averageName } from '../figures/outputFigure';
import { onsetsOf } from '../onsetsOf';
import { outputShape, shownPeak } from '../outputShape';
import { nameOfRun, type Session, type SettingView } from '../session';
import { plainName } from '../text';

/** A row of the table at a glance: its name and the cell of each setting. */
export type GlanceRow = [name: string, cell: (view: SettingView) => string | null];

/** Nominal third-octave bands that levels are quoted at, Hz. */
const QUOTED_HZ = [20, 25, 31.5, 40, 50, 63];

/** How wide and how deep. */
export function responseRows(views: SettingView[], words: ReportWords): GlanceRow[] {
  const { say, page } = words;
  const { glanceTable: told } = page;
  const heights = say.list(distinct(views.flatMap(({ fit }) => (fit ? [say.short(fit.heightDb)] : []))));
  const downs = distinct(views.flatMap(({ fit }) => fit?.points.map(({ downDb }) => downDb) ?? []));
  const range = ({ lowHz, highHz }: { lowHz: number; highHz: number }): string => say.hzRange(lowHz, highHz);
  return [
    [told.windowMasked(heights), ({ fit }) => (fit && fit.masksHz.length > 0 ? flagged(range(fit), fit, words) : null)],
    [told.window(heights), ({ fit }) => (fit ? flagged(range(fit.withoutMasks), fit, words) : null)],
    ...downs
      .sort((a, b) => a - b)
      .map(
        (down): GlanceRow => [
          told.down(down),
          ({ fit }) => {
            const point = fit?.points.find(({ downDb }) => downDb === down);
            return point ? told.downAt(point.lowHz, point.highHz) : null;
          },
        ],
      ),
    [
      told.rollOff,
      ({ rollOff: one }) =>
        one
          ? flagged(
              told.fall(
                told.slope(one.slopeDbPerOctave),
                one.f0Hz,
                one.q,
                plainName((one.alignment as string | null) ?? ''),
              ),
              one,
              words,
            )
          : null,
    ],
  ];
}

/** How loud, where drive is lost, how clean. */
export function levelRows(views: SettingView[], words: ReportWords): GlanceRow[] {
  const { glanceTable: told } = words.page;
  const { run } = words.figure;
  const amounts = distinct(
    views.flatMap(({ ladder }) => ladder?.onset.map(({ compressionDb }) => compressionDb) ?? []),
  );
  const percents = distinct(views.flatMap(({ conclusion }) => conclusion?.clean.map(({ percent }) => percent) ?? []));
  const averages = distinct(
    views.flatMap(({ maximumOutput }) => maximumOutput?.averages.map((one) => averageName(one, words)) ?? []),
  );
  const isConverted = views.some(({ maximumOutput }) => maximumOutput && outputShape(maximumOutput).isConverted);
  const outputRow = isConverted ? told.outputConverted : told.outputMicrophone;
  return [
    ...QUOTED_HZ.map(
      (hz): GlanceRow => [
        told.loudest(hz),
        ({ ladder }) => {
          const band = ladder?.bandsHz.findIndex((centre) => nominalHz(centre) === hz) ?? -1;
          const level = ladder?.ceiling.levelDb[band] ?? null;
          return level === null ? null : told.level(level, !ladder?.ceiling.reached[band]);
        },
      ],
    ),
    ...amounts
      .sort((a, b) => a - b)
      .map(
        (amount): GlanceRow => [
          told.lost(amount),
          (view) => {
            if (!view.conclusion || !view.ladder) return null;
            const first = onsetsOf(view).find(({ compressionDb }) => compressionDb === amount);
            if (first) return told.onset(run(first.driveDb), first.hz);
            return view.conclusion.extent === 'unknown' ? told.unknown : told.notReached;
          },
        ],
      ),
    [
      told.limited,
      (view) => {
        const extent = view.conclusion?.extent ?? view.ladder?.extent;
        if (!view.ladder || !extent) return null;
        const regions = drivenRegions(view);
        return regions.length > 0 ? told.limits(regions) : told.extents[extent];
      },
    ],
    ...percents
      .sort((a, b) => a - b)
      .map(
        (percent): GlanceRow => [
          told.thd(percent),
          ({ conclusion, distortion }) => {
            const clean = conclusion?.clean.find((one) => one.percent === percent);
            if (!clean) return distortion ? told.unknown : null;
            const text = told.clean(nominalHz(clean.lowHz), nominalHz(clean.highHz), clean.levelDb, clean.atLeast);
            return distortion ? flagged(text, distortion, words) : text;
          },
        ],
      ),
    ...averages.map(
      (name): GlanceRow => [
        outputRow(name),
        ({ maximumOutput }) => {
          const average = maximumOutput?.averages.find((one) => averageName(one, words) === name);
          if (!maximumOutput || !average) return null;
          const shape = outputShape(maximumOutput);
          const peak = shownPeak(average, shape);
          if (peak === null) return told.centreMissing;
          const text = told.output(peak, shape.isConverted ? average.rmsAt2mDb : null, average.atLeast);
          return flagged(text, maximumOutput, words);
        },
      ],
    ),
    [
      outputRow(words.say.hz(QUOTED_HZ[0])),
      ({ maximumOutput }) => {
        const centre = maximumOutput?.centres.find(({ centreHz }) => nominalHz(centreHz) === QUOTED_HZ[0]);
        if (!maximumOutput || !centre) return null;
        const shape = outputShape(maximumOutput);
        const peak = shownPeak(centre, shape);
        if (peak === null) return told.noneBurst;
        const text = told.output(peak, shape.isConverted ? centre.rmsAt2mDb : null, centre.stoppedBy === 'schedule');
        return centre.trusted ? text : told.untrusted(text);
      },
    ],
  ];
}

/** What the numbers rest on. */
export function trustRows({ words, captures }: Session): GlanceRow[] {
  const { page } = words;
  const { glanceTable: told } = page;
  return [
    [
      told.step,
      ({ ladder }) => {
        if (!ladder || ladder.rungs.length < 2) return null;
        const { commandedDb, measuredDb, uncertaintyDb } = ladder.step;
        if (!Number.isFinite(measuredDb ?? Number.NaN) || !Number.isFinite(uncertaintyDb ?? Number.NaN))
          return told.unknown;
        return told.stepValue(measuredDb as number, uncertaintyDb as number, commandedDb);
      },
    ],
    [
      told.breaks,
      (view) => {
        const lines = view.curves.map((curve) => ({ label: nameOfRun(curve, words) }));
        const breaks = breaksOf(view, lines).map(({ lower, upper }) => told.between(lower, upper));
        return breaks.length > 0 ? words.say.list(breaks) : null;
      },
    ],
    [
      told.cells,
      ({ ladder }) => {
        const cells = ladder?.trusted.flat() ?? [];
        return cells.length > 0 ? told.cellCount(cells.filter(Boolean).length, cells.length) : null;
      },
    ],
    [
      page.captures,
      ({ of }) => {
        const own = captures.filter(({ about }) => about.device === of.device && about.setting === of.setting);
        const count = (verdict: string): number => own.filter((one) => one.verdict === verdict).length;
        return own.length > 0 ? page.captureTable.counts(count('good'), count('doubtful'), count('bad')) : null;
      },
    ],
  ];
}

/** A value, marked where something speaks against it. */
function flagged(text: string, finding: { caveats: Caveat[] }, { page }: ReportWords): string {
  if (isUnusable(finding)) return page.glanceTable.unusable(text);
  return isDoubted(finding) ? page.glanceTable.doubted(text) : text;
}

function distinct<T>(values: T[]): T[] {
  return [...new Set(values)];
}
