import type { Curve, Recording } from '../../model/curve';
import { levelOf } from '../../model/decibel';
import { makeCurve } from '../../model/makeCurve';
import type { Step } from '../../model/step';
import { correctMicrophone } from '../../response/correctMicrophone';
import { wrap } from '../../response/unwrap';
import type { Response } from './divide/respond';
import type { Harmonic } from './harmonics/harmonics';

/** Silence has no level; this is far below what any converter resolves. */
const LEAST_POWER = 1e-30;

/** What all curves of a capture share. */
export type Story = Pick<Recording, 'label' | 'about' | 'steps'> & { fullScaleDb: number | undefined };

/** Frequencies of a logarithmic grid, Hz. */
export function logGrid(fromHz: number, toHz: number, pointsPerOctave: number): number[] {
  const count = Math.floor(Math.log2(toHz / fromHz) * pointsPerOctave + 1e-9) + 1;
  return Array.from({ length: Math.max(count, 1) }, (_, i) => fromHz * 2 ** (i / pointsPerOctave));
}

const db = (power: number) => levelOf(Math.max(power, LEAST_POWER));

/** The response as a curve, dB re a full-scale sine or re 20 uPa. */
export function responseColumns(
  { fundamental, noise }: Pick<Response, 'fundamental' | 'noise'>,
  frequencyHz: number[],
  levelOffsetDb: number,
): Pick<Curve, 'frequencyHz' | 'levelDb' | 'phaseDeg' | 'noiseDb'> {
  const values = fundamental.read(frequencyHz);
  return {
    frequencyHz,
    levelDb: frequencyHz.map((_, i) => db(values[2 * i] ** 2 + values[2 * i + 1] ** 2) + levelOffsetDb),
    phaseDeg: frequencyHz.map((_, i) => wrap((Math.atan2(values[2 * i + 1], values[2 * i]) * 180) / Math.PI)),
    ...(noise && { noiseDb: frequencyHz.map((hz) => db(fundamental.noisePower(hz)) + levelOffsetDb) }),
  };
}

export function responseCurve(
  columns: Parameters<typeof makeCurve>[0],
  story: Story,
  step: Step,
  correction?: Curve,
): Curve {
  const curve = makeCurve({
    ...columns,
    label: story.label,
    about: story.about,
    scale: story.fullScaleDb === undefined ? 'relative' : 'spl',
    steps: [...story.steps, step],
  });
  return correction ? correctMicrophone(curve, correction) : curve;
}

/** A harmonic as a curve. */
export function harmonicCurve(
  harmonic: Harmonic,
  hasNoise: boolean,
  story: Story,
  step: Step,
  correction?: Curve,
): Curve {
  const { order, frequencyHz } = harmonic;
  const curve = makeCurve({
    role: 'harmonic',
    order,
    frequencyHz,
    levelDb: harmonic.power.map(db),
    ...(hasNoise && { noiseDb: harmonic.noise.map(db) }),
    label: `${story.label}, harmonic ${order}`,
    about: story.about,
    steps: [...story.steps, step],
  });
  return correction ? correctMicrophone(curve, correction) : curve;
}

/** Root of the summed power of the orders 2 to 5, %, where all of them that were asked for are known. */
export function thdOf(harmonics: Curve[]): { frequencyHz: number[]; percent: number[] } {
  const counted = harmonics.filter(({ order }) => order! <= 5);
  if (counted.length === 0) return { frequencyHz: [], percent: [] };
  // all begin at one frequency; higher orders end earlier
  const count = Math.min(...counted.map(({ frequencyHz }) => frequencyHz.length));
  const frequencyHz = counted[0].frequencyHz.slice(0, count);
  const percent = frequencyHz.map(
    (_, i) => 100 * Math.sqrt(counted.reduce((sum, { levelDb }) => sum + 10 ** (levelDb[i] / 10), 0)),
  );
  return { frequencyHz, percent };
}
