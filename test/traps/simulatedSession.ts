import { makeCurve } from '../../lib';
import type { Curve } from '../../lib/model/curve';

/*
 * A second simulator, written apart from lib/rig and sharing nothing with it but `makeCurve`: levels from closed forms,
 * noise added as a random phasor in each bin. Everything in it is made up; only the laws are real (high-pass of fourth
 * order, compression towards a ceiling, power sums).
 */

/** Deterministic noise: a 32-bit mixer (splitmix), uniform in (0, 1). */
export function randomOf(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    return ((z ^ (z >>> 16)) >>> 0) / 4294967296 + 1e-12;
  };
}

function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
}

export interface Session {
  device?: string;
  setting?: string;
  seed?: number;
  points?: number;
  fromHz?: number;
  toHz?: number;
  /** Even steps in Hz instead of even steps in octaves. */
  linear?: boolean;
  drivesDb?: number[];
  /** Level of the pass band at drive 0, dB. */
  sensitivityDb?: number;
  /** Corner of the high-pass, Hz. */
  cornerHz?: number;
  /** What a switch or the unit itself adds, dB. */
  extraDb?: (hz: number) => number;
  /** Dips and peaks of the room: centre, depth (negative) or height, width in octaves. */
  room?: { hz: number; db: number; octaves: number }[];
  /** Highest level that the unit gives, dB; none where left out. */
  ceilingDb?: (hz: number) => number;
  /** Loss of all bands at a drive, dB. */
  heatDb?: (driveDb: number) => number;
  /** How much of a commanded step arrives at a frequency; 1 is all. */
  arrives?: (hz: number) => number;
  noiseDb?: (hz: number) => number;
  /** Standard deviation of the gain of whole runs, dB. */
  scatterDb?: number;
  /** Changes the finished level of a run. */
  spoil?: (levelDb: number, hz: number, run: number) => number;
  scale?: Curve['scale'];
}

export const DRIVES = [0, 3, 6, 9, 12, 15, 18, 21];

/** Level of a fourth-order high-pass of two equal Butterworth sections, dB. */
function highPassDb(hz: number, cornerHz: number): number {
  const x = (cornerHz / hz) ** 4;
  return -20 * Math.log10(1 + x);
}

const quietRoomDb = (hz: number) => 38 - 12 * Math.log2(hz / 20);

function gridOf({ points = 400, fromHz = 8, toHz = 300, linear = false }: Session): number[] {
  return Array.from({ length: points }, (_, i) => {
    const part = i / (points - 1);
    return linear ? fromHz + (toHz - fromHz) * part : fromHz * (toHz / fromHz) ** part;
  });
}

/** All runs of one unit in one setting, lowest drive first. */
export function simulateSession(session: Session = {}): Curve[] {
  const { drivesDb = DRIVES, scatterDb = 0.05 } = session;
  const random = randomOf(session.seed ?? 1);
  const frequencyHz = gridOf(session);
  return drivesDb.map((driveDb, run) => {
    const gain = scatterDb * normal(random);
    const levelDb = frequencyHz.map((hz) => {
      const clean = unitDb(session, hz, driveDb) + roomDb(session, hz) + gain;
      const noisy = withNoise(clean, (session.noiseDb ?? quietRoomDb)(hz), random);
      return session.spoil ? session.spoil(noisy, hz, run) : noisy;
    });
    return makeCurve({
      label: `${session.device ?? 'unit'}_${session.setting ?? 'plain'}_${driveDb}`,
      frequencyHz,
      levelDb,
      scale: session.scale ?? 'spl',
      about: { device: session.device ?? 'unit', setting: session.setting ?? 'plain', driveDb, position: 'spot' },
    });
  });
}

/** The noise run of a session: the same measurement with the unit muted. */
export function simulateNoise(session: Session = {}): Curve {
  const random = randomOf((session.seed ?? 1) + 7919);
  const frequencyHz = gridOf(session);
  const levelDb = frequencyHz.map((hz) => withNoise(-200, (session.noiseDb ?? quietRoomDb)(hz), random));
  return makeCurve({ label: 'noise', role: 'noise', frequencyHz, levelDb, scale: session.scale ?? 'spl' });
}

/** What the unit sends out, before the room: what lies above the ceiling is held there. */
function unitDb(session: Session, hz: number, driveDb: number): number {
  const { sensitivityDb = 78, cornerHz = 25, extraDb, arrives, ceilingDb, heatDb } = session;
  const wanted =
    sensitivityDb +
    highPassDb(hz, cornerHz) +
    (extraDb?.(hz) ?? 0) +
    driveDb * (arrives?.(hz) ?? 1) -
    (heatDb?.(driveDb) ?? 0);
  if (!ceilingDb) return wanted;
  // a knee of about 1 dB: power 8 of the amplitudes, added as reciprocals
  const over = wanted - ceilingDb(hz);
  return wanted - (10 / 4) * Math.log10(1 + 10 ** (over * 0.4));
}

function roomDb({ room = [] }: Session, hz: number): number {
  return room.reduce(
    (sum, { hz: centre, db, octaves }) => sum + db / (1 + (Math.log2(hz / centre) / (octaves / 2)) ** 2),
    0,
  );
}

function withNoise(levelDb: number, noiseDb: number, random: () => number): number {
  const amplitude = 10 ** (levelDb / 20);
  const spread = 10 ** (noiseDb / 20) / Math.SQRT2;
  return 20 * Math.log10(Math.hypot(amplitude + spread * normal(random), spread * normal(random)) + 1e-12);
}
