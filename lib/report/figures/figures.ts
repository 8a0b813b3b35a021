import type { Session } from '../session';
import { ceilingFigure } from './ceilingFigure';
import { cleanFigure } from './cleanFigure';
import { differenceFigure } from './differenceFigure';
import { distortionFigure } from './distortionFigure';
import { drawSession } from './drawnSession';
import type { Figure } from './figure';
import { harmonicsFigure } from './harmonicsFigure';
import { ladderFigure } from './ladderFigure';
import { mapFigure } from './mapFigure';
import { outputFigure } from './outputFigure';
import { overviewFigure } from './overviewFigure';
import { rangeFigure } from './rangeFigure';
import { responseFigure } from './responseFigure';
import { roomFigure } from './roomFigure';

/** Figures in the order of the page: the one on the first screen, those below it, and those that are folded. */
export interface PageFigures {
  first?: Figure;
  main: Figure[];
  more: Figure[];
}

/** All figures that a session gives ground for. */
export function figuresOf(session: Session): PageFigures {
  const drawn = drawSession(session);
  const { settings } = drawn;
  const present = (figures: (Figure | undefined)[]): Figure[] => figures.filter((figure) => figure !== undefined);
  return {
    first: overviewFigure(drawn),
    main: present([
      ...settings.map((setting, k) => ladderFigure(drawn, setting, k + 1)),
      // Compression and distortion of a setting stand together, band over band.
      ...settings.flatMap((setting, k) => [mapFigure(drawn, setting, k + 1), distortionFigure(drawn, setting, k + 1)]),
      ceilingFigure(drawn),
      ...settings.map((setting, k) => outputFigure(drawn, setting, k + 1)),
      ...(session.findings.settingDifference ?? []).map((one, k) => differenceFigure(drawn, one, k + 1)),
      roomFigure(drawn),
    ]),
    more: present([
      ...settings.map((setting, k) => responseFigure(drawn, setting, k + 1)),
      ...settings.map((setting, k) => rangeFigure(drawn, setting, k + 1)),
      ...settings.flatMap((setting, k) => [harmonicsFigure(drawn, setting, k + 1), cleanFigure(drawn, setting, k + 1)]),
    ]),
  };
}
