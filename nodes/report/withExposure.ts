import type { Curve, Measurement } from '../../lib/model/curve';
import type { Findings } from '../../lib/model/findings';
import type { Library } from '../define';

/** What was read at the ear; how loud it was at the microphone is only known of sweeps that were taken apart here. */
export function withExposure(lib: Library, payload: Measurement[], findings: Findings, levelDba?: number): Findings {
  const isSwept = (one: Measurement): one is Curve =>
    one.kind === 'curve' && one.scale === 'spl' && one.steps.some(({ did }) => did === 'deconvolve');
  const curves = payload.filter(isSwept);
  if (findings.exposure || (curves.length === 0 && levelDba === undefined)) return findings;
  const { conclusions, ...others } = findings; // they know nothing of it
  return { ...others, exposure: lib.estimateExposure({ curves, levelDba }) };
}
