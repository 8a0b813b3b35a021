import { withConclusions } from '../../analysis/conclusions/conclude';
import type { Curve } from '../../model/curve';
import type { Findings } from '../../model/findings';
import { attachNoiseRuns } from '../../response/attachNoiseRuns';
import { makeRefusal } from '../../words/makeRefusal';
import type { ReportWords } from '../../words/reportWords';
import { captureFigure } from '../figures/captureFigure';
import { ceilingFigure } from '../figures/ceilingFigure';
import { cleanFigure } from '../figures/cleanFigure';
import { curvesFigure } from '../figures/curvesFigure';
import { differenceFigure } from '../figures/differenceFigure';
import { distortionFigure } from '../figures/distortionFigure';
import { type DrawnSession, type DrawnSetting, drawSession } from '../figures/drawnSession';
import type { Figure } from '../figures/figure';
import { harmonicsFigure } from '../figures/harmonicsFigure';
import { ladderFigure } from '../figures/ladderFigure';
import { mapFigure } from '../figures/mapFigure';
import { outputFigure } from '../figures/outputFigure';
import { overviewFigure } from '../figures/overviewFigure';
import { rangeFigure } from '../figures/rangeFigure';
import { responseFigure } from '../figures/responseFigure';
import { rollOffFigure } from '../figures/rollOffFigure';
import { roomFigure } from '../figures/roomFigure';
import { thinForFigures } from '../fitPage';
import { sortSession } from '../session';
import type { ChartInput } from './chartInput';

type Way = () => Figure | undefined;
type Ways = { [K in keyof Findings]?: Way[] };
type OfSetting = (drawn: DrawnSession, setting: DrawnSetting, index: number) => Figure | undefined;

/**
 * Choose what to draw.
 *
 * @throws BassloomError `nothing-to-draw` where there is nothing of what was asked for.
 */
export function chooseFigure(input: ChartInput, words: ReportWords): Figure {
  const { kind, view, setting } = input;
  const given = input.findings ?? {};
  const measurements = attachNoiseRuns(input.measurements ?? [], () => {});
  const findings = withConclusions(measurements, given);
  const drawn = drawSession(thinForFigures(sortSession('', measurements, findings, words)).drawn);
  const isMeant = (about: { setting?: string }): boolean => setting === undefined || about.setting === setting;
  const curves = measurements.filter((one): one is Curve => one.kind === 'curve' && isMeant(one.about));
  const found = waysOf(drawn, isMeant);
  const asked = kind === undefined ? (Object.keys(found) as (keyof Findings)[]) : [kind];
  // conclusions are drawn anew, so that they need not have been given where they are asked for
  const isGiven = (one: keyof Findings): boolean => hasSome(kind === undefined ? given : findings, one);
  const ways = asked.flatMap((one) => (Object.hasOwn(found, one) && isGiven(one) ? (found[one] ?? []) : []));
  if (kind === undefined) ways.push(() => curvesFigure(curves, words));
  const figure = firstOf(ways.map((draw) => () => wanted(draw(), view)));
  const refused = { kind: kind ?? null, view: view ?? null, setting: setting ?? null };
  if (!figure) throw makeRefusal('nothing-to-draw', refused);
  return figure;
}

/** The pictures of each finding, the most telling first. */
function waysOf(drawn: DrawnSession, isMeant: (about: { setting?: string }) => boolean): Ways {
  const { findings, words } = drawn.session;
  const shown = drawn.settings.flatMap((setting, k) => (isMeant(setting.view) ? [{ setting, index: k + 1 }] : []));
  const each = (...figures: OfSetting[]): Way[] =>
    figures.flatMap((figure) => shown.map((one) => () => figure(drawn, one.setting, one.index)));
  const some = { ...drawn, settings: shown.map(({ setting }) => setting) };
  const overview = () => overviewFigure(some);
  const room = [() => roomFigure(drawn)];
  return {
    bandFit: [...(shown.length > 1 ? [overview] : []), ...each(responseFigure, rangeFigure)],
    rollOff: each(rollOffFigure),
    ladder: [...each(ladderFigure, mapFigure), () => ceilingFigure(some)],
    roomFeatures: room,
    roomPrediction: room,
    settingDifference: (findings.settingDifference ?? []).map((one, k) => () => differenceFigure(drawn, one, k + 1)),
    distortion: each(distortionFigure, harmonicsFigure, cleanFigure),
    maximumOutput: each(outputFigure),
    captureQuality: [
      () =>
        captureFigure(
          (findings.captureQuality ?? []).filter(({ about }) => isMeant(about)),
          words,
        ),
    ],
    conclusions: [overview],
  };
}

function hasSome(findings: Findings, kind: keyof Findings): boolean {
  const found = findings[kind];
  return Array.isArray(found) ? found.length > 0 : found !== undefined;
}

function wanted(figure: Figure | undefined, view?: Figure['kind']): Figure | undefined {
  return view === undefined || figure?.kind === view ? figure : undefined;
}

function firstOf(ways: Way[]): Figure | undefined {
  for (const draw of ways) {
    const figure = draw();
    if (figure) return figure;
  }
  return undefined;
}
