import { type Random, randomFrom } from './random';
import type { Equaliser, GridSpec, LimiterSpec, MicrophoneSpec, NoiseSpec, RigSpec, UnitSpec } from './rigSpec';
import { unitResponse } from './unitResponse';

/**
 * Draw a virtual bench by chance: unit, switch, limiter, room, microphone, noise, scatter, step and grid.
 *
 * @param seed whole number from 0; the same seed gives the same rig.
 * @param overrides parts of the rig to be set instead of drawn (the rest is drawn as it would be without them).
 * @returns plain JSON that can be kept beside what was measured with it.
 *
 * @example
 * drawRig(7, { noise: undefined }).unit.device // 'unit 7'
 */
export function drawRig(seed: number, overrides: Partial<RigSpec> = {}): RigSpec {
  // each part has a stream of its own, so that changing how one is drawn leaves the others as they were
  const stream = (part: string) => randomFrom([seed, 'rig', part]);
  const drive = drawDrive(stream('drive'));
  const spanDb = (drive.rungs - 1) * drive.trueStepDb;
  const unit = overrides.unit ?? drawUnit(seed, spanDb, stream('unit'), stream('limiter'));
  const rig: RigSpec = {
    seed,
    unit,
    settings: [{ name: 'flat', equaliser: { kind: 'flat' } }, drawSetting(stream('setting'))],
    drive,
    ...drawPlace(stream('room')),
    noise: drawNoise(unit, stream('noise')),
    scatter: drawScatter(stream('scatter')),
    grid: drawGrid(stream('grid')),
    ...drawMicrophone(stream('microphone')),
  };
  return { ...rig, ...overrides };
}

function drawDrive(random: Random): RigSpec['drive'] {
  const commandedStepDb = random.pick([3, 3, 3, 3, 2, 4]);
  const part = random.pick([1, 1, 1, 29 / 30, 29.5 / 30, 30.6 / 30]);
  const rungs = Math.round(random.between(8, 12));
  return { rungs, commandedStepDb, trueStepDb: commandedStepDb * part };
}

function drawUnit(seed: number, spanDb: number, random: Random, limits: Random): UnitSpec {
  const sealed = random.uniform() < 0.6;
  const f0Hz = sealed ? random.between(18, 45) : random.between(15, 30);
  const spread = random.between(0.9, 1.1);
  const unit: UnitSpec = {
    device: `unit ${seed}`,
    highPass: sealed
      ? [{ f0Hz, q: random.between(0.5, 1.1) }]
      : [
          { f0Hz: f0Hz * spread, q: random.between(0.5, 0.65) },
          { f0Hz: f0Hz / spread, q: random.between(1, 1.5) },
        ],
    lowPass: { hz: random.between(120, 250), order: random.pick([2, 4]) },
    sensitivityDb: random.between(70, 80),
  };
  const limiter = drawLimiter(unit, spanDb, limits);
  return {
    ...unit,
    ...(limiter && { limiter }),
    ...(limiter && limits.uniform() < 0.25 && { heatDriveDb: spanDb + limits.between(4, 12) }),
  };
}

function drawLimiter(unit: UnitSpec, spanDb: number, random: Random): LimiterSpec | undefined {
  const kind = random.pick(['none', 'sharp', 'sharp', 'gradual', 'gradual']);
  const guarded = random.uniform() < 0.5;
  const topDb = unit.sensitivityDb + spanDb;
  const gradual = kind === 'gradual';
  const limiter: LimiterSpec = {
    excursionAt20HzDb: topDb + unitResponse(unit, { kind: 'flat' }, 20).db - random.between(-2, 15),
    amplifierDb: topDb - random.between(-4, 9),
    kneeDb: gradual ? random.between(9, 16) : random.between(1, 4),
    slope: gradual ? random.between(0, 0.25) : 0,
  };
  const guard = {
    belowHz: random.between(16, 30),
    offsetDb: random.between(3, 10),
    kneeDb: random.between(1, 3),
  };
  if (kind === 'none') return undefined;
  return guarded ? { ...limiter, guard } : limiter;
}

function drawSetting(random: Random): { name: string; equaliser: Equaliser } {
  const hz = random.between(16, 40);
  const gainDb = random.between(3, 9) * random.pick([-1, 1]);
  const order = random.pick([1, 2] as const);
  const kind = random.uniform();
  const q = random.between(0.5, 0.9);
  const second = { hz: hz * random.between(1.2, 2), gainDb: gainDb * random.between(0.2, 0.6) };
  if (kind > 0.8) return { name: 'cut', equaliser: { kind: 'high-pass', f0Hz: hz / 1.6, q } };
  const shelf: Equaliser = { kind: 'shelf', hz, gainDb, order, ...(order === 2 && { q }) };
  if (kind > 0.2) return { name: 'shelf', equaliser: shelf };
  const stages: Equaliser[] = [shelf, { kind: 'shelf', order: 1, ...second }];
  return { name: 'two shelves', equaliser: { kind: 'chain', stages } };
}

function drawPlace(random: Random): Pick<RigSpec, 'room' | 'distanceM'> {
  const [lengthM, widthM, heightM] = [random.between(3.8, 8), random.between(2.8, 5.5), random.between(2.2, 3)];
  const inside = (low: number, high: number): [number, number, number] => [
    lengthM * random.between(low, high),
    widthM * random.between(low, high),
    0,
  ];
  const source = inside(0.05, 0.25);
  source[2] = random.between(0.2, 0.4);
  const microphone = inside(0.4, 0.85);
  microphone[2] = random.between(0.9, 1.3);
  const temperatureC = random.between(17, 26);
  const decayS = random.between(0.25, 0.7);
  if (random.uniform() < 0.2) return { distanceM: random.between(1, 3) };
  return { room: { lengthM, widthM, heightM, temperatureC, decayS, source, microphone } };
}

function drawMicrophone(random: Random): { microphone?: MicrophoneSpec } {
  const wave = (db: number) => ({
    db: db * random.uniform(),
    octaves: random.between(2.5, 6),
    phase: random.between(0, 2 * Math.PI),
  });
  const microphone: MicrophoneSpec = {
    lowEndHz: random.between(1, 9),
    waves: [wave(1.5), wave(0.7)],
    correctionPointsPerOctave: random.pick([6, 12, 24]),
    ...(random.uniform() < 0.3 && { residual: wave(0.1) }),
  };
  return random.uniform() < 0.85 ? { microphone } : {};
}

function drawNoise(unit: UnitSpec, random: Random): NoiseSpec {
  const signalDb = unit.sensitivityDb + unitResponse(unit, { kind: 'flat' }, 20).db;
  const noise: NoiseSpec = {
    at20HzDb: signalDb - random.between(-5, 40),
    slopeDbPerOctave: random.between(-8, -3),
  };
  const hum = { hz: random.pick([50, 60]), db: random.between(6, 18) };
  return random.uniform() < 0.3 ? { ...noise, hum } : noise;
}

function drawScatter(random: Random): RigSpec['scatter'] {
  return { gainDb: random.between(0.01, 0.1), shapeDb: random.between(0.005, 0.04) };
}

function drawGrid(random: Random): GridSpec {
  const startHz = random.between(2, 10);
  const endHz = random.between(250, 1000);
  if (random.uniform() < 0.6) return { kind: 'log', startHz, endHz, pointsPerOctave: random.pick([12, 24, 48, 96]) };
  return { kind: 'linear', startHz, endHz, stepHz: random.pick([0.1, 0.25, 0.37, 0.5]) };
}
