import * as lib from '../../lib';
import { withConclusions } from '../../lib/analysis/conclusions/conclude';
import { measureMaximumOutput } from '../../lib/analysis/maximumOutput/measureMaximumOutput';
import type { MaximumOutputOptions } from '../../lib/analysis/maximumOutput/options';
import type { Curve, Measurement, Recording } from '../../lib/model/curve';
import type { Findings } from '../../lib/model/findings';
import { roomMasks } from '../../nodes/judged';

/** What the shipped flow does with a session, node by node, in one call. */
export function judgeSession(
  measurements: Measurement[],
  options: {
    room?: lib.Room;
    topic?: string;
    bursts?: { stimulus: Recording; options: MaximumOutputOptions };
    quality?: Findings['captureQuality'];
  } = {},
): { findings: Findings; report: lib.Report } {
  const curves = lib.attachNoiseRuns(measurements).filter((one): one is Curve => one.kind === 'curve');
  const responses = curves.filter(({ role }) => role === 'response');
  const findings: Findings = options.quality ? { captureQuality: options.quality } : {};
  findings.roomFeatures = lib.findRoomFeatures(responses, { room: options.room });
  const masksHz = roomMasks(findings, { useMasks: true, minConfidence: 0.5 });
  findings.ladder = groups(responses, true).flatMap((group) =>
    attempt(() => lib.buildLadder([...group, ...noiseIn(curves)])),
  );
  findings.bandFit = responses.flatMap((curve) => attempt(() => lib.fitBand(curve, { masksHz })));
  const judged = lib.referenceCurves(curves, findings.ladder);
  findings.rollOff = judged.flatMap((curve) => attempt(() => lib.fitRollOff(curve, { masksHz })));
  const [a, b] = groups(responses, true);
  const pair = a && b && lib.referencePair(a, b, curves, findings.ladder);
  if (pair) findings.settingDifference = [lib.compareSettings(...pair, { masksHz, ladders: findings.ladder } as never)];
  const harmonics = curves.filter(({ role }) => role === 'harmonic');
  if (harmonics.length > 0)
    findings.distortion = groups([...responses, ...harmonics], true).map((one) => lib.measureDistortion(one));
  const captures = measurements.filter((one): one is Recording => one.kind === 'recording' && one.role === 'capture');
  if (options.bursts) {
    const { stimulus, options: how } = options.bursts;
    findings.maximumOutput = [measureMaximumOutput(captures, stimulus, how)];
  }
  const concluded = JSON.parse(JSON.stringify(withConclusions(measurements, findings))) as Findings;
  return {
    findings: concluded,
    // the page takes far longer than all the numbers: only where it is asked for
    get report() {
      return lib.buildReport({ topic: options.topic ?? 'unit', measurements, findings });
    },
  };
}

function groups(responses: Curve[], bySetting: boolean): Curve[][] {
  const found = new Map<string, Curve[]>();
  for (const curve of responses) {
    const key = JSON.stringify([curve.about.device, bySetting && curve.about.setting]);
    found.set(key, [...(found.get(key) ?? []), curve]);
  }
  return [...found.values()];
}

function noiseIn(curves: Curve[]): Curve[] {
  return curves.filter(({ role }) => role === 'noise');
}

function attempt<T>(make: () => T): T[] {
  try {
    return [make()];
  } catch (problem) {
    if (problem instanceof lib.BassloomError) return [];
    throw problem;
  }
}
