import { describe, expect, it } from 'vitest';
import { applyCalibration } from '../../lib/analysis/calibration/applyCalibration';
import { calibrateFromSensitivity } from '../../lib/analysis/calibration/calibrateFromSensitivity';
import { calibrateFromTone, type ToneOptions } from '../../lib/analysis/calibration/calibrateFromTone';
import { levelAtDistance } from '../../lib/analysis/calibration/levelAtDistance';
import { toHalfSpace } from '../../lib/analysis/calibration/toHalfSpace';
import type { BassloomError } from '../../lib/model/errors';
import { makeCurve } from '../../lib/model/makeCurve';
import { randomFrom } from '../../lib/rig/random';
import { makeRecording } from '../../lib/wav/makeRecording';
import { writeWav } from '../../lib/wav/writeWav';

const RATE = 16000;

/** A recording of some seconds; the sound as a function of time. */
function record(sound: (t: number) => number, seconds = 5, rate = RATE, format: 'float32' | 'pcm16' = 'float32') {
  const samples = Float64Array.from({ length: seconds * rate }, (_, n) => sound(n / rate));
  return makeRecording(writeWav({ sampleRateHz: rate, channels: [samples] }, { format }), { label: 'calibrator' });
}
const sine = (amplitude: number, hz: number) => (t: number) => amplitude * Math.sin(2 * Math.PI * hz * t + 1);
const plus =
  (...parts: ((t: number) => number)[]) =>
  (t: number) =>
    parts.reduce((sum, part) => sum + part(t), 0);
const hiss = (amplitude: number, key: string) => {
  const random = randomFrom([key]);
  return () => amplitude * random.normal();
};

function codeOf(recording: ReturnType<typeof record>, options?: ToneOptions): string {
  try {
    calibrateFromTone(recording, options);
    return 'none';
  } catch (error) {
    return (error as BassloomError).code;
  }
}

describe('a calibrator on the microphone', () => {
  // closed form: a sine of amplitude a is 20 lg a dBFS (AES17), so full scale is worth its SPL less that
  it.each([
    { levelDb: 94, hz: 1000, amplitude: 0.1, stated: 1000 },
    { levelDb: 114, hz: 1000, amplitude: 0.5, stated: 1000 },
    { levelDb: 124, hz: 250, amplitude: 0.02, stated: 250 },
    { levelDb: 94, hz: 1007.3, amplitude: 0.004, stated: 1000 },
    { levelDb: 104, hz: 31.62, amplitude: 0.03, stated: 31.5 },
  ])('says what full scale is worth: $levelDb dB at $hz Hz', ({ levelDb, hz, amplitude, stated }) => {
    const found = calibrateFromTone(record(sine(amplitude, hz)), {
      levelDb,
      frequencyHz: stated,
    });
    expect(Math.abs(found.fullScaleDb - (levelDb - 20 * Math.log10(amplitude)))).toBeLessThan(0.005);
    expect(Math.abs(found.toneHz! - hz)).toBeLessThan(0.02);
    expect(found).toMatchObject({ from: 'tone' });
  });

  it('is read past silence, handling, hum and noise', () => {
    const tone = sine(0.03, 1001);
    const knock = (t: number) => (t > 0.7 && t < 0.9 ? 0.8 * Math.sin(400 * t) * Math.sin(2000 * t) : 0);
    const sound = plus((t) => (t > 2 && t < 7 ? tone(t) : 0), knock, sine(0.01, 50), hiss(0.003, 'noise'));
    const found = calibrateFromTone(record(sound, 8), { levelDb: 94 });
    expect(Math.abs(found.fullScaleDb - (94 - 20 * Math.log10(0.03)))).toBeLessThan(0.05);
    expect(found.caveats).toEqual([]);
    const sixteen = calibrateFromTone(record(sine(0.03, 1000), 5, 48000, 'pcm16'));
    expect(Math.abs(sixteen.fullScaleDb - 124.458)).toBeLessThan(0.005);
  });

  it('is read from the channel asked for', () => {
    const samples = [0.1, 0.01].map((a) => Float64Array.from({ length: 2 * RATE }, (_, n) => sine(a, 1000)(n / RATE)));
    const stereo = makeRecording(writeWav({ sampleRateHz: RATE, channels: samples }));
    expect(calibrateFromTone(stereo, { channel: 2 }).toneDbfs).toBeCloseTo(-40, 3);
    expect(codeOf(stereo, { channel: 3 })).toBe('no-such-channel');
    expect(codeOf(stereo, { channel: 0 })).toBe('no-such-channel');
  });

  it.each<[string, (t: number) => number, string, string, number, number]>([
    ['drifts', (t) => (1 - 0.02 * t) * sine(0.1, 1000)(t), 'calibration-drift', 'driftDb', -0.5, 0.5],
    ['is close to noise', plus(sine(0.01, 1000), hiss(0.008, 'close')), 'calibration-noisy', 'snrDb', 15, 5],
    ['has strong harmonics', plus(sine(0.1, 1000), sine(0.008, 2000)), 'calibration-impure', 'percent', 8, 0.1],
    [
      'is not the strongest tone',
      plus(sine(0.1, 1000), sine(0.2, 50)),
      'calibration-other-tone',
      'frequencyHz',
      50,
      0.1,
    ],
    ['is off in frequency', sine(0.1, 1025), 'calibration-frequency-off', 'percent', 2.5, 0.05],
  ])('is taken with a caveat where its tone %s', (_, sound, code, name, value, within) => {
    const { caveats } = calibrateFromTone(record(sound));
    expect(caveats).toHaveLength(1);
    expect(caveats[0]).toMatchObject({ code, severity: 'doubt' });
    expect(Math.abs((caveats[0].values[name] as number) - value)).toBeLessThan(within);
  });

  it('is taken with a caveat where it is brief', () => {
    expect(calibrateFromTone(record(sine(0.1, 1000), 1)).caveats).toMatchObject([
      { code: 'calibration-brief', severity: 'remark' },
    ]);
  });

  it.each<[string, (t: number) => number, string]>([
    ['silence', () => 0, 'calibration-no-tone'],
    ['an offset', () => 0.2, 'calibration-no-tone'],
    ['noise', hiss(0.1, 'hiss'), 'calibration-no-tone'],
    ['a tone far from the stated one', sine(0.1, 250), 'calibration-no-tone'],
    ['a tone 6 % off', sine(0.1, 1060), 'calibration-frequency'],
    ['a clipped tone', (t) => Math.max(-0.5, Math.min(0.5, sine(0.7, 1003)(t))), 'calibration-clipped'],
    [
      'a tone clipped at a whole number of samples a cycle',
      (t) => Math.max(-0.5, Math.min(0.5, sine(0.7, 1000)(t))),
      'calibration-clipped',
    ],
    ['a tone that wavers', (t) => (1 + 0.5 * Math.sin(9 * t)) * sine(0.1, 1000)(t), 'calibration-unsteady'],
    ['a mere blip', (t) => (t > 1 && t < 1.2 ? sine(0.1, 1000)(t) : 0), 'calibration-unsteady'],
  ])('refuses %s', (_, sound, code) => {
    expect(codeOf(record(sound))).toBe(code);
  });

  it('names the tone that is there, and refuses options that cannot be', () => {
    expect(() => calibrateFromTone(record(sine(0.1, 250)))).toThrow(/clearest tone is at 250\sHz/);
    expect(codeOf(record(sine(0.1, 1000)), { frequencyHz: 9000 })).toBe('calibration-tone');
    expect(codeOf(record(sine(0.1, 1000)), { frequencyHz: -1 })).toBe('calibration-tone');
    expect(codeOf(record(sine(0.1, 1000)), { levelDb: Number.NaN })).toBe('calibration-tone');
    expect(codeOf(record(sine(0.1, 1000), 0.05))).not.toBe('none');
  });
});

describe('a sensitivity', () => {
  it('doubts a sensitivity that was given in V/Pa, or a full scale in mV', () => {
    const doubt = expect.objectContaining({ code: 'calibration-unlikely', severity: 'doubt' });
    expect(calibrateFromSensitivity({ sensitivityMvPerPa: 0.05, fullScaleV: 1 }).caveats).toContainEqual(doubt);
    expect(calibrateFromSensitivity({ sensitivityMvPerPa: 50, fullScaleV: 1000 }).caveats).toContainEqual(doubt);
    // 1 mV/Pa, 10 V: a microphone for blasts, 174 dB; 50 mV/Pa, 1 V and 35 dB of gain: 85 dB
    expect(calibrateFromSensitivity({ sensitivityMvPerPa: 1, fullScaleV: 10 }).caveats).toHaveLength(1);
    expect(calibrateFromSensitivity({ sensitivityMvPerPa: 50, fullScaleV: 1, gainDb: 35 }).caveats).toHaveLength(1);
  });

  it('says what full scale is worth', () => {
    // closed form: 1 V at 50 mV/Pa is 20 Pa, a million times 20 uPa
    expect(calibrateFromSensitivity({ sensitivityMvPerPa: 50, fullScaleV: 1 }).fullScaleDb).toBeCloseTo(120, 9);
    const amplified = calibrateFromSensitivity({ sensitivityMvPerPa: 50, fullScaleV: 1, gainDb: 26 });
    expect(amplified.fullScaleDb).toBeCloseTo(94, 9);
    expect(amplified).toMatchObject({ from: 'sensitivity', caveats: [{ code: 'calibration-from-figures' }] });
  });

  it('is refused where it is none', () => {
    for (const known of [
      { sensitivityMvPerPa: 0, fullScaleV: 1 },
      { sensitivityMvPerPa: 50, fullScaleV: -1 },
      { sensitivityMvPerPa: 50, fullScaleV: 1, gainDb: Number.NaN },
    ]) {
      expect(() => calibrateFromSensitivity(known)).toThrow(
        expect.objectContaining({ code: 'calibration-sensitivity' }),
      );
    }
  });
});

describe('a calibrated curve', () => {
  const curve = makeCurve({ frequencyHz: [20, 40], levelDb: [-30, -24], noiseDb: [-70, -72], phaseDeg: [10, 20] });

  it('is raised with its noise, and says so', () => {
    const spl = applyCalibration(curve, 120.5);
    expect(spl).toMatchObject({ scale: 'spl', levelDb: [90.5, 96.5], noiseDb: [50.5, 48.5], phaseDeg: [10, 20] });
    expect(spl.steps.at(-1)).toEqual({ did: 'calibrate', with: { fullScaleDb: 120.5 } });
    expect(curve.levelDb).toEqual([-30, -24]);
  });

  it('is not calibrated twice, nor is what has no level of its own', () => {
    const refusal = (code: string) => expect.objectContaining({ code });
    expect(() => applyCalibration(applyCalibration(curve, 120), 120)).toThrow(refusal('already-calibrated'));
    for (const role of ['harmonic', 'correction'] as const) {
      expect(() => applyCalibration(makeCurve({ ...curve, role }), 120)).toThrow(refusal('not-a-level'));
    }
    expect(() => applyCalibration(curve, Number.NaN)).toThrow(refusal('calibration-level'));
  });
});

describe('a level', () => {
  // closed forms: 20 lg 2 = 6.0206 dB
  it('is brought to another distance by the inverse distance law', () => {
    expect(levelAtDistance(100, 1, 2)).toBeCloseTo(93.9794, 4);
    expect(levelAtDistance(100, 3, 0.3)).toBeCloseTo(120, 9);
    expect(() => levelAtDistance(100, 0, 1)).toThrow(expect.objectContaining({ code: 'distance' }));
    expect(() => levelAtDistance(100, 1, Number.POSITIVE_INFINITY)).toThrow(/toM/);
  });

  it('is stated for half space with the pressure doubled', () => {
    expect(toHalfSpace(90)).toBeCloseTo(96.0206, 4);
  });
});
