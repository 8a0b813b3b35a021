import type { Session } from '../session';
import { cleanFigure } from './cleanFigure';
import { differenceFigure } from './differenceFigure';
import { distortionFigure } from './distortionFigure';
import { drawSession } from './drawnSession';
import type { Figure } from './figure';
import { harmonicsFigure } from './harmonicsFigure';
import { ceilingFigure, ladderFigure, mapFigure, rangeFigure } from './ladderFigures';
import { outputFigure } from './outputFigure';
import { responseFigure } from './responseFigure';
import { roomFigure } from './roomFigure';

/** All figures that a session gives ground for, in the order of the page. */
export function figuresOf(session: Session): Figure[] {
  const drawn = drawSession(session);
  const { settings } = drawn;
  return [
    ...settings.map((setting, k) => responseFigure(drawn, setting, k + 1)),
    ...settings.map((setting, k) => ladderFigure(drawn, setting, k + 1)),
    // Compression and distortion of a setting stand together, band over band.
    ...settings.flatMap((setting, k) => [
      mapFigure(drawn, setting, k + 1),
      distortionFigure(drawn, setting, k + 1),
      harmonicsFigure(drawn, setting, k + 1),
      cleanFigure(drawn, setting, k + 1),
    ]),
    ceilingFigure(drawn),
    ...settings.map((setting, k) => outputFigure(drawn, setting, k + 1)),
    ...settings.map((setting, k) => rangeFigure(drawn, setting, k + 1)),
    ...(session.findings.settingDifference ?? []).map((one, k) => differenceFigure(drawn, one, k + 1)),
    roomFigure(drawn),
  ].filter((figure) => figure !== undefined);
}
