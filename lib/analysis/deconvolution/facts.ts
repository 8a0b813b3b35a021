import type { Caveat } from '../../model/caveat';
import type { Curve } from '../../model/curve';
import type { CaptureQuality } from '../../model/findings';
import { bandAround, thirdOctaveCentres } from '../../model/octaves';
import { powerIntegral } from '../../response/powerIntegral';
import { makeCaveat } from '../../words/makeCaveat';
import type { CaptureFacts } from '../capture/captureFacts';
import type { HumLine } from '../capture/humLines';
import { judgeCapture } from '../capture/judgeCapture';
import type { Clock } from './delay/delay';
import type { ChannelFacts } from './place/capture';
import type { Extent } from './place/extent';

/** What a capture's quality is judged by. */
export interface Evidence {
  recording: Pick<CaptureQuality, 'recording' | 'label' | 'about'>;
  channel: ChannelFacts;
  stimulusRateHz: number;
  /** Levels re a full-scale sine. */
  hum: HumLine[];
  /** Lines of them that were taken out. */
  removedHz: readonly number[];
  extent: Extent | undefined;
  clock: Clock | undefined;
  response: Pick<Curve, 'frequencyHz' | 'levelDb' | 'noiseDb'>;
  fullScaleDb: number | undefined;
  /** What was found beside the facts. */
  others: readonly Caveat[];
}

/** Gather the facts of a capture and judge it. */
export function judge(evidence: Evidence): CaptureQuality {
  const { channel, extent, clock, stimulusRateHz, fullScaleDb } = evidence;
  const { clipping, peak } = channel;
  const facts: CaptureFacts = {
    ...evidence.recording,
    clippedSamples: clipping.samples,
    clippedAtS: clipping.atIndex === null ? null : clipping.atIndex / channel.sampleRateHz,
    truncatedAtHz: extent?.truncatedAtHz ?? null,
    missedBelowHz: extent?.missedBelowHz ?? null,
    humHz: evidence.hum.map(({ frequencyHz, levelDb }) => ({
      frequencyHz,
      levelDb: levelDb + (fullScaleDb ?? 0),
    })),
    peakDbfs: 20 * Math.log10(Math.max(peak, 1e-10)),
    snrDb: bandSnr(evidence.response),
    clockPpm: clock?.ppm ?? null,
    clockUncertaintyPpm: clock?.uncertaintyPpm ?? null,
    ...(channel.sampleRateHz !== stimulusRateHz && {
      ratesHz: { capture: channel.sampleRateHz, stimulus: stimulusRateHz },
    }),
  };
  return judgeCapture(facts, fullScaleDb === undefined ? 'relative' : 'spl', [
    ...channel.caveats,
    ...humLeft(evidence),
    ...evidence.others,
  ]);
}

/** Below, hum that stays spoils the level where it stands, dB. */
const CLEAR_OF_HUM_DB = 20;

/** Hum that could not be taken out, where it is not far below the response. */
function humLeft({ hum, removedHz, response: { frequencyHz, levelDb, noiseDb } }: Evidence): Caveat[] {
  const rangesHz = hum
    .filter(({ frequencyHz: hz }) => {
      const near = frequencyHz.findIndex((point) => point >= hz);
      const snrDb = near < 0 || !noiseDb ? Number.POSITIVE_INFINITY : levelDb[near] - noiseDb[near];
      return !removedHz.includes(hz) && snrDb < CLEAR_OF_HUM_DB;
    })
    .map(({ frequencyHz: hz }): [number, number] => [hz * 2 ** (-1 / 12), hz * 2 ** (1 / 12)]);
  return rangesHz.length > 0
    ? [makeCaveat('capture-hum-stays', 'doubt', { lines: rangesHz.length }, { rangesHz })]
    : [];
}

/** Signal-to-noise ratio in third-octave bands that lie whole inside the response, dB. */
function bandSnr({ frequencyHz, levelDb, noiseDb }: Evidence['response']): CaptureQuality['snrDb'] {
  if (!noiseDb) return { frequencyHz: [], db: [] };
  const level = powerIntegral(frequencyHz, levelDb);
  const noise = powerIntegral(frequencyHz, noiseDb);
  const centres = thirdOctaveCentres(frequencyHz[0], frequencyHz[frequencyHz.length - 1]);
  return {
    frequencyHz: centres,
    db: centres.map((hz) => {
      const [low, high] = bandAround(hz, 3);
      return level.meanDb(low, high) - noise.meanDb(low, high);
    }),
  };
}
