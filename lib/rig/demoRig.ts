import type { RigSpec } from './rigSpec';

/**
 * The bench that the bundled demo session was measured on. Everything in it is invented.
 *
 * @returns plain JSON.
 *
 * Notes: a sealed 12-inch unit with a bottom-lifting switch, on a spot by the front wall of a furnished room. A
 * protective limiter guards the bottom octave; higher up the unit runs out gradually. The bottom bands drown in the
 * room's noise at the lowest rungs, the steps are 2.95 dB where 3 dB were commanded, and repeats scatter by 0.1 dB.
 *
 * @example
 * demoRig().settings.map((setting) => setting.name) // ['shelf-flat', 'shelf-lifted']
 */
export function demoRig(): RigSpec {
  return {
    seed: 2417,
    unit: {
      device: 'Marrowby-12',
      highPass: [
        { f0Hz: 23, q: 0.55 },
        { f0Hz: 21, q: 0.9 },
      ],
      lowPass: { hz: 170, order: 4 },
      sensitivityDb: 75,
      limiter: {
        excursionAt20HzDb: 101,
        amplifierDb: 97.4,
        kneeDb: 12,
        slope: 0.15,
        guard: { belowHz: 21, offsetDb: 17, kneeDb: 2 },
      },
    },
    settings: [
      { name: 'shelf-flat', equaliser: { kind: 'flat' } },
      { name: 'shelf-lifted', equaliser: { kind: 'shelf', hz: 24, gainDb: 4, order: 2 } },
    ],
    drive: { rungs: 10, commandedStepDb: 3, trueStepDb: 2.95 },
    room: {
      lengthM: 5.6,
      widthM: 4.1,
      heightM: 2.5,
      temperatureC: 21,
      decayS: 0.3,
      source: [0.4, 0.7, 0.3],
      microphone: [3.6, 1.4, 1.1],
    },
    microphone: {
      lowEndHz: 4,
      waves: [{ db: 0.6, octaves: 4.5, phase: 1 }],
      correctionPointsPerOctave: 6,
    },
    noise: { at20HzDb: 54, slopeDbPerOctave: -7, hum: { hz: 50, db: 8 } },
    scatter: { gainDb: 0.1, shapeDb: 0.02 },
    grid: { kind: 'log', startHz: 5, endHz: 400, pointsPerOctave: 48 },
  };
}
