import type { Position, Room } from '../../lib';

/*
 * A room by its mirror sources, which shares nothing with lib/room but the description: rigid walls that each take the same
 * share of every reflection (Allen and Berkley 1979, from memory), summed in time and transformed at single frequencies.
 */

const SOUND = 343;
const RATE = 3000;
const LONGEST_S = 0.7;

type Place = [x: number, y: number, z: number];

export interface Box {
  sizeM: Place;
  source: Place;
  microphone: Place;
  /** Pressure reflected by each wall, 0 to 1. */
  reflected: number;
}

/** Decay by Eyring, s, and the rest as a user would describe the room. */
export function describeBox({ sizeM: [l, w, h], source, microphone, reflected }: Box): Room {
  const decayS = (0.161 * l * w * h) / (-2 * (l * w + l * h + w * h) * Math.log(reflected ** 2));
  return {
    ...{ lengthM: l, widthM: w, heightM: h, decayS },
    ...{ source: source as Position, microphone: microphone as Position },
  };
}

/** Level of the room at the microphone re the direct sound, dB, over frequency in Hz. */
export function boxLevel(box: Box): (hz: number) => number {
  const { sizeM, source, microphone, reflected } = box;
  const response = new Float64Array(Math.ceil(LONGEST_S * RATE) + 1);
  const direct = Math.hypot(...source.map((x, i) => x - microphone[i]));
  const far = LONGEST_S * SOUND;
  const axes = sizeM.map((size, i) => {
    const most = Math.ceil(far / (2 * size));
    return Array.from({ length: 2 * most + 1 }, (_, k) => k - most).flatMap((n) =>
      [0, 1].map((mirrored) => ({
        d: (1 - 2 * mirrored) * source[i] + 2 * n * size - microphone[i],
        gain: reflected ** (Math.abs(n - mirrored) + Math.abs(n)),
      })),
    );
  });
  for (const x of axes[0]) {
    for (const y of axes[1]) {
      const flat = x.d ** 2 + y.d ** 2;
      if (flat > far * far || x.gain * y.gain < 1e-4) continue;
      for (const z of axes[2]) {
        const distance = Math.sqrt(flat + z.d ** 2);
        const gain = (x.gain * y.gain * z.gain * direct) / distance;
        if (distance >= far || gain < 1e-4) continue;
        const at = (distance / SOUND) * RATE;
        const n = Math.floor(at);
        response[n] += gain * (1 - at + n);
        response[n + 1] += gain * (at - n);
      }
    }
  }
  return (hz) => {
    let [re, im] = [0, 0];
    for (let n = 0; n < response.length; n++) {
      if (response[n] === 0) continue;
      const phase = (2 * Math.PI * hz * n) / RATE;
      re += response[n] * Math.cos(phase);
      im += response[n] * Math.sin(phase);
    }
    return 20 * Math.log10(Math.hypot(re, im) + 1e-9);
  };
}

/** A room of 30 to 150 m^3 with unit and microphone somewhere in it, at least 1.5 m apart. */
export function drawBox(random: () => number): Box {
  const between = (low: number, high: number) => low + (high - low) * random();
  for (;;) {
    const sizeM: Place = [between(3.8, 8), between(3, 5.5), between(2.3, 3.2)];
    const source: Place = [between(0.3, sizeM[0] - 0.3), between(0.3, sizeM[1] - 0.3), between(0.2, 0.4)];
    const microphone: Place = [between(0.5, sizeM[0] - 0.5), between(0.5, sizeM[1] - 0.5), between(0.9, 1.3)];
    if (Math.hypot(...source.map((x, i) => x - microphone[i])) < 1.5) continue;
    return { sizeM, source, microphone, reflected: between(0.8, 0.92) };
  }
}
