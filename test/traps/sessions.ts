import type { Caveat } from '../../lib/model/caveat';
import type { Curve } from '../../lib/model/curve';
import type { Findings, Ladder } from '../../lib/model/findings';
import { judgeSession } from './judgeSession';
import { type Session, simulateNoise, simulateSession } from './simulatedSession';

/** Grids and seeds that every trap is tried on. */
export const VARIANTS: Session[] = [
  { points: 400, seed: 1 },
  { points: 60, seed: 2 },
  { points: 1500, seed: 3, linear: true },
];

/** A limiter that guards the bottom: nothing above 45 Hz is held. */
export const bottomLimiter = (hz: number) => (hz < 45 ? 88 + 12 * Math.log2(hz / 25) : 130);

/** One setting and its noise run, judged. */
export function judged(session: Session, change: (runs: Curve[]) => Curve[] = (runs) => runs): Judged {
  return summary([...change(simulateSession(session)), simulateNoise(session)]);
}

export interface Judged {
  findings: Findings;
  ladder: Ladder;
  headlines: string[];
  details: string[];
  /** All sentences of the verdict. */
  verdict: string[];
  /** Caveats that are more than remarks, each sentence once. */
  doubts: Caveat[];
}

export function summary(curves: Curve[], options: Parameters<typeof judgeSession>[1] = {}): Judged {
  const { findings } = judgeSession(curves, options);
  const { ladder = [], bandFit = [], rollOff = [], settingDifference = [], roomFeatures = [] } = findings;
  const caveats = [...ladder, ...bandFit, ...rollOff, ...settingDifference, ...roomFeatures].flatMap(
    (finding) => finding.caveats,
  );
  const doubts = new Map(
    caveats.filter(({ severity }) => severity !== 'remark').map((caveat) => [caveat.message, caveat]),
  );
  return {
    findings,
    ladder: ladder[0],
    headlines: findings.conclusions?.headlines.map(({ code }) => code) ?? [],
    details: findings.conclusions?.details.map(({ code }) => code) ?? [],
    verdict: [...(findings.conclusions?.headlines ?? []), ...(findings.conclusions?.details ?? [])].map(
      ({ text }) => text,
    ),
    doubts: [...doubts.values()],
  };
}
