import { describe, expect, it } from 'vitest';
import { measureMaximumOutput } from '../../../lib/analysis/maximumOutput/measureMaximumOutput';
import { makeCurve } from '../../../lib/model/makeCurve';
import { burstSchedule, type ScheduledBurst } from '../../../lib/signal/burstSchedule';
import { makeBursts } from '../../../lib/signal/makeBursts';
import { decodeWav } from '../../../lib/wav/decodeWav';
import { makeRecording } from '../../../lib/wav/makeRecording';
import { writeWav } from '../../../lib/wav/writeWav';
import { playBursts, polynomialTruth, type Simulated } from './burstSimulator';

const spec = { sampleRateHz: 8000, fromHz: 25, toHz: 80, lowestDbfs: -30, highestDbfs: -6, stepDb: 3, gapSeconds: 0.6 };
const PEAK_DB = 10 * Math.log10(2);
const cubic = (a3: number) => (x: number) => x + a3 * x ** 3;
const square = (a2: number) => (x: number) => x + a2 * x * x;

describe('the level of a burst', () => {
  it('is the peak pressure of the fundamental, brought to 1 m, and 9.03 dB less as rms at 2 m', () => {
    const { centres, scale, measuredAtM } = measureMaximumOutput([playBursts(spec)], spec, {
      fullScaleDb: 120,
      measuredAtM: 2,
      place: 'half space',
    });
    expect({ scale, measuredAtM }).toEqual({ scale: 'spl', measuredAtM: 2 });
    expect(centres).toHaveLength(6);
    for (const { driveDb, peakAt1mDb, rmsAt2mDb, stoppedBy, trusted } of centres) {
      expect(driveDb).toBeCloseTo(-6, 9);
      // a sine of -6 dBFS is 114 dB rms by the meaning of full scale; its peak sqrt(2) more; half the distance twice
      expect(peakAt1mDb).toBeCloseTo(114 + PEAK_DB + 20 * Math.log10(2), 2);
      expect(rmsAt2mDb).toBeCloseTo((peakAt1mDb as number) - 9.0309, 4);
      expect({ stoppedBy, trusted }).toEqual({ stoppedBy: 'schedule', trusted: true });
    }
  });

  it('is relative where nothing is calibrated, and that of the microphone where its distance is not known', () => {
    const { centres, scale, measuredAtM, caveats, assumption } = measureMaximumOutput([playBursts(spec)], spec);
    expect({ scale, measuredAtM }).toEqual({ scale: 'relative', measuredAtM: null });
    expect(centres[0].levelAtMicrophoneDb).toBeCloseTo(-6 + PEAK_DB, 2);
    expect(centres[0].peakAt1mDb).toBeNull();
    expect(caveats.map(({ code, severity }) => [code, severity])).toEqual([
      ['output-not-calibrated', 'remark'],
      ['output-at-microphone', 'remark'],
    ]);
    expect(assumption).toEqual({ place: 'unknown', measuredAtM: [], calibrated: false });
  });

  it('is not brought to 1 m out of a room, nor from a place that is not known, whatever the distance', () => {
    for (const place of ['room', 'unknown', undefined] as const) {
      const options = { fullScaleDb: 120, measuredAtM: 4, place };
      const { centres, averages, assumption, caveats } = measureMaximumOutput([playBursts(spec)], spec, options);
      expect(assumption).toEqual({ place: place ?? 'unknown', measuredAtM: [4], calibrated: true });
      for (const one of [...centres, ...averages]) expect(one).toMatchObject({ peakAt1mDb: null, rmsAt2mDb: null });
      for (const { levelAtMicrophoneDb, bursts } of centres) {
        expect(levelAtMicrophoneDb).toBeCloseTo(114 + PEAK_DB, 2);
        expect(bursts.at(-1)?.levelDb).toBeCloseTo(114 + PEAK_DB, 2);
      }
      expect(averages[1].levelAtMicrophoneDb).toBeCloseTo(114 + PEAK_DB, 2);
      expect(caveats).toMatchObject([{ code: 'output-at-microphone', severity: 'remark' }]);
    }
    const open = measureMaximumOutput([playBursts(spec)], spec, { fullScaleDb: 120, place: 'free field' });
    expect(open.centres[0].peakAt1mDb).toBeNull();
    expect(open.caveats.map(({ code }) => code)).toEqual(['output-distance-unknown']);
  });

  it('is comparable in one capture only where distances differ in a room', () => {
    const captures = [1, 3].map((distanceM) => playBursts(spec, { about: { distanceM, driveDb: 0 } }));
    const codes = measureMaximumOutput(captures, spec, { place: 'room' }).caveats.map(({ code }) => code);
    expect(codes).toContain('output-distances-differ');
  });

  it('takes the distance of the capture, and the microphone out', () => {
    const capture = playBursts(spec, { about: { distanceM: 0.5 } });
    // a microphone that is 6 dB down at 25 Hz and flat from 50 Hz, on a straight line over log frequency
    const correction = makeCurve({ frequencyHz: [25, 50], levelDb: [-6, 0], role: 'correction' });
    const { centres, measuredAtM, caveats } = measureMaximumOutput([capture], spec, {
      correction,
      place: 'half space',
    });
    expect(measuredAtM).toBe(0.5);
    const at1m = -6 + PEAK_DB - 20 * Math.log10(2);
    expect(centres[5].peakAt1mDb).toBeCloseTo(at1m, 2);
    expect(centres[2].peakAt1mDb).toBeCloseTo(at1m + 6 * Math.log2(50 / centres[2].centreHz), 2);
    const short = caveats.find(({ code }) => code === 'output-correction-short');
    expect(short?.where?.bandsHz?.map(Math.round)).toEqual([50, 63, 79]);
  });

  it('adds the drive of each run, so that several captures make one ladder', () => {
    const quiet = { ...spec, highestDbfs: -12 };
    const captures = [0, 6].map((driveDb) =>
      playBursts(quiet, { unit: (x) => 10 ** (driveDb / 20) * x, about: { driveDb } }),
    );
    const { centres, recordings } = measureMaximumOutput(captures, quiet);
    expect(recordings).toEqual(captures.map(({ id }) => id));
    expect(centres[0].driveDb).toBeCloseTo(-6, 9);
    expect(centres[0].levelAtMicrophoneDb).toBeCloseTo(-6 + PEAK_DB, 2);
    expect(centres[0].bursts).toHaveLength(14);
    expect(centres[0].bursts.map(({ driveDb }) => driveDb)).toEqual(
      [...centres[0].bursts.map(({ driveDb }) => driveDb)].sort((a, b) => a - b),
    );
  });
});

describe('what stops a burst', () => {
  it('is the harmonic over its limit, as the closed form of a polynomial has it', () => {
    const a2 = 2.2;
    const { centres } = measureMaximumOutput([playBursts(spec, { unit: square(a2) })], spec);
    const truth = burstSchedule(spec).bursts.filter(({ centreHz }) => centreHz === centres[0].centreHz);
    const levels = truth.map(({ levelDbfs }) => polynomialTruth(a2, 0, 10 ** (levelDbfs / 20)).secondDb);
    const last = levels.filter((level) => level <= -10).length - 1;
    expect(last).toBeGreaterThan(3);
    expect(last).toBeLessThan(levels.length - 1);
    for (const centre of centres) {
      expect(centre.driveDb).toBeCloseTo(truth[last].levelDbfs, 9);
      expect(centre.stoppedBy).toBe('distortion');
      expect(centre.harmonic).toMatchObject({ order: 2, limitDb: -10 });
      expect(centre.harmonic!.levelDb).toBeCloseTo(levels[last + 1], 0);
      // the fundamental's own spectrum at 2 f is 59 dB down
      centre.bursts.forEach(({ harmonicsDb }, i) => {
        expect(Math.abs((harmonicsDb[0] as number) - levels[i])).toBeLessThan(0.5);
      });
    }
  });

  it('is judged by the limits that are given', () => {
    const limits = [{ fromOrder: 2, toOrder: 3, limitDb: -30 }];
    const unit = cubic(1.5);
    const { centres, limits: used } = measureMaximumOutput([playBursts(spec, { unit })], spec, { limits });
    expect(used).toEqual(limits);
    const passing = burstSchedule(spec).bursts.filter(
      ({ levelDbfs }) => polynomialTruth(0, 1.5, 10 ** (levelDbfs / 20)).thirdDb <= -30,
    );
    expect(centres[0].driveDb).toBeCloseTo(passing.at(-1)!.levelDbfs, 9);
    expect(centres[0].harmonic?.order).toBe(3);
  });

  it('is compression where a louder burst brings less than half of its step, cleanly', () => {
    // a limiter that holds whole bursts of the lower centres at 0.25, which is -12 dBFS
    const gain = ({ centreHz, levelDbfs }: ScheduledBurst) =>
      centreHz < 45 ? Math.min(1, 0.25 / 10 ** (levelDbfs / 20)) : 1;
    const { centres } = measureMaximumOutput([playBursts(spec, { gain, noise: 1e-4 })], spec);
    for (const { centreHz, stoppedBy, driveDb, levelAtMicrophoneDb, bursts } of centres) {
      expect(stoppedBy).toBe(centreHz < 45 ? 'compression' : 'schedule');
      expect(driveDb).toBeCloseTo(centreHz < 45 ? -12 : -6, 9);
      expect(levelAtMicrophoneDb).toBeCloseTo((centreHz < 45 ? -12.04 : -6) + PEAK_DB, 1);
      expect(bursts.every(({ passed }) => passed)).toBe(true);
    }
  });

  it('is compression also where the last burst is the loudest but brought less than half of its step', () => {
    // from -12 dBFS up, a third of each step arrives
    const gain = ({ levelDbfs }: ScheduledBurst) => 10 ** (-Math.max(0, levelDbfs + 12) / 30);
    const { centres } = measureMaximumOutput([playBursts(spec, { gain, noise: 1e-4 })], spec);
    for (const { stoppedBy, driveDb, levelAtMicrophoneDb } of centres) {
      expect({ stoppedBy, driveDb }).toEqual({ stoppedBy: 'compression', driveDb: -6 });
      expect(levelAtMicrophoneDb).toBeCloseTo(-10 + PEAK_DB, 1);
    }
  });

  it('is the lower burst where one fails and a louder one passes, which it says', () => {
    const { samples, bursts } = burstSchedule(spec);
    const bad = bursts.filter(({ levelDbfs }) => levelDbfs === -15);
    // one burst of each centre is rectified
    for (const { atSample, samples: length } of bad) {
      for (let n = atSample; n < atSample + length; n++) samples[n] = Math.abs(samples[n]);
    }
    const capture = makeRecording(writeWav({ sampleRateHz: 8000, channels: [samples] }), { label: 'rub' });
    const { centres, caveats } = measureMaximumOutput([capture], spec);
    for (const { driveDb, stoppedBy } of centres) {
      expect({ driveDb, stoppedBy }).toEqual({ driveDb: -18, stoppedBy: 'distortion' });
    }
    const told = caveats.filter(({ code, values }) => code === 'output-louder-passes' && values.failedDb === -15);
    expect(told).toHaveLength(6);
  });

  it('is clipping where the recorder clipped, and the level then is at least', () => {
    const capture = playBursts(spec, { rail: 0.3, noise: 1e-4, format: 'pcm24' });
    const { centres, caveats } = measureMaximumOutput([capture], spec);
    for (const { stoppedBy, driveDb, bursts } of centres) {
      expect(stoppedBy).toBe('clipping');
      expect(driveDb).toBeCloseTo(-12, 9); // -9 dBFS is 0.355
      expect(bursts.at(-1)?.passed).toBe(false);
    }
    const clipped = caveats.find(({ code }) => code === 'output-clipped');
    expect(clipped?.where?.bandsHz).toEqual(centres.map(({ centreHz }) => centreHz));
    expect(clipped?.message).toContain('25–80');
  });

  it('is noise where no burst stands 10 dB above it', () => {
    const hum = { hz: 50.1, amplitude: 0.4 };
    const { centres } = measureMaximumOutput([playBursts(spec, { hum, noise: 1e-4 })], spec);
    const at50 = centres.find(({ centreHz }) => Math.round(centreHz) === 50);
    expect(at50).toMatchObject({
      stoppedBy: 'noise',
      driveDb: null,
      levelAtMicrophoneDb: null,
      peakAt1mDb: null,
      rmsAt2mDb: null,
      trusted: false,
    });
    expect(at50?.bursts.every(({ passed }) => !passed)).toBe(true);
  });
});

describe('harmonics in noise', () => {
  it.each([1, 2, 3])('are not taken for distortion in the first burst of a file that begins with it', (seed) => {
    const { channels, sampleRateHz } = decodeWav(makeBursts(spec));
    const samples = channels[0].subarray(Math.round(spec.gapSeconds * sampleRateHz));
    const stimulus = makeRecording(writeWav({ sampleRateHz, channels: [samples] }, { format: 'pcm24' }), {
      role: 'stimulus',
      label: 'bursts of somebody else',
    });
    const { centres } = measureMaximumOutput([playBursts(spec, { noise: 0.015, seed })], stimulus);
    expect(centres[0]).toMatchObject({ centreHz: 10 ** 1.4, stoppedBy: 'schedule' });
    expect(centres[0].driveDb).toBeCloseTo(-6, 1);
  });

  it('cannot fail a clean burst, however many are looked at', () => {
    const { centres } = measureMaximumOutput([playBursts(spec, { noise: 0.02, seed: 4 })], spec);
    expect(centres.map(({ stoppedBy }) => stoppedBy)).toEqual(centres.map(() => 'schedule'));
  });

  it('are said to hide what they hide', () => {
    const { centres, caveats } = measureMaximumOutput([playBursts(spec, { noise: 0.05, seed: 5 })], spec);
    const doubtful = centres.filter(({ trusted }) => !trusted);
    expect(doubtful.length).toBeGreaterThan(0);
    const hidden = caveats.filter(({ code }) => code === 'output-harmonic-in-noise');
    expect(hidden.flatMap(({ where }) => where?.bandsHz)).toEqual(doubtful.map(({ centreHz }) => centreHz));
  });
});

describe('what cannot be right is said', () => {
  it('where bursts rise faster than the schedule that was given', () => {
    const played = { ...spec, lowestDbfs: -30, highestDbfs: -6, stepDb: 6 };
    const given = { ...spec, lowestDbfs: -18, highestDbfs: -6, stepDb: 3 };
    const { caveats } = measureMaximumOutput([playBursts(played, { noise: 1e-4 })], given);
    const strange = caveats.find(({ code }) => code === 'output-steps-strange');
    expect(strange?.values.factor).toBeCloseTo(2, 1);
    const right = measureMaximumOutput([playBursts(played, { noise: 1e-4 })], played).caveats;
    expect(right.map(({ code }) => code)).not.toContain('output-steps-strange');
  });

  it('where the noise is not known, since there is no silence before a burst', () => {
    const one = { ...spec, lowestDbfs: -6, highestDbfs: -6 };
    const { channels, sampleRateHz } = decodeWav(makeBursts(one));
    const samples = channels[0].subarray(Math.round(spec.gapSeconds * sampleRateHz));
    const stimulus = makeRecording(writeWav({ sampleRateHz, channels: [samples] }, { format: 'pcm24' }), {
      role: 'stimulus',
    });
    const { centres, caveats } = measureMaximumOutput([playBursts(one, { noise: 1e-4 })], stimulus);
    expect(centres.map(({ trusted }) => trusted)).toEqual([false, true, true, true, true, true]);
    const unknown = caveats.filter(({ code }) => code === 'output-noise-unknown');
    expect(unknown.map(({ where }) => where?.bandsHz)).toEqual([[centres[0].centreHz]]);
  });

  it('where the level of full scale is no number', () => {
    expect(() => measureMaximumOutput([playBursts(spec)], spec, { fullScaleDb: Number.NaN })).toThrow(
      expect.objectContaining({ code: 'calibration-level' }),
    );
  });
});

describe('where the schedule is found', () => {
  const clean = measureMaximumOutput([playBursts(spec, { unit: square(2.2) })], spec);
  const expectAlike = (simulated: Simulated, missed = 0) => {
    const found = measureMaximumOutput([playBursts(spec, { unit: square(2.2), ...simulated })], spec);
    found.centres.forEach(({ driveDb, levelAtMicrophoneDb, stoppedBy, bursts }, i) => {
      const wanted = clean.centres[i];
      expect({ driveDb, stoppedBy }).toEqual({ driveDb: wanted.driveDb, stoppedBy: wanted.stoppedBy });
      expect(levelAtMicrophoneDb).toBeCloseTo(wanted.levelAtMicrophoneDb as number, 1);
      expect(bursts.filter(({ levelDb }) => levelDb !== null).length).toBeGreaterThanOrEqual(
        wanted.bursts.length - missed,
      );
    });
  };

  it.each([
    ['a recorder that started half a minute early', { leadS: 30 }],
    ['one that ran on', { tailS: 40, leadS: 0 }],
    ['a faster clock', { ppm: 400 }],
    ['a slower clock', { ppm: -550, leadS: 3 }],
    ['another sample rate', { sampleRateHz: 11025, ppm: 35 }],
    ['noise', { noise: 0.002 }],
    ['an offset', { offset: 0.05 }],
  ])('whatever comes with it: %s', (_, simulated) => expectAlike(simulated));

  it('also where the first or the last bursts are missing, which it says', () => {
    expectAlike({ leadS: -6.5 }, 2);
    const cut = measureMaximumOutput([playBursts(spec, { leadS: -6.5, unit: square(2.2) })], spec);
    expect(cut.caveats.map(({ code }) => code)).toContain('output-bursts-missed');
    expect(cut.centres[0].bursts[0]).toMatchObject({ levelDb: null, passed: false, harmonicsDb: [] });
  });

  it.each([
    ['the first rounds', { leadS: -12 }],
    ['the last rounds', { tailS: -12 }],
    ['rounds at both ends', { leadS: -7, tailS: -7 }],
  ])('also where %s are missing: then levels are right and drives may be wrong', (_, simulated) => {
    const { centres, caveats } = measureMaximumOutput([playBursts(spec, { noise: 1e-3, ...simulated })], spec, {});
    expect(caveats.map(({ code }) => code)).toContain('output-bursts-missed');
    for (const { bursts } of centres) {
      const levels = bursts.map(({ levelDb }) => levelDb).filter((level) => level !== null);
      expect(levels.length).toBeGreaterThan(4);
      // the unit is linear and its levels lie on the steps of the schedule: -30, -27 ... dBFS
      for (const level of levels) expect(Math.abs(((level - PEAK_DB + 31.5) % 3) - 1.5)).toBeLessThan(0.2);
    }
  });

  it.each([1, 2, 3])('also where the lower bursts drown in noise, and much silence follows', (seed) => {
    // in a Hann window of 6.5 / 40 s, white noise of 0.15 to 4 kHz reads sqrt(32 / 3 / 1300) of it: -37 dB, and 10 dB more
    // are needed
    const capture = playBursts(spec, { noise: 0.15, seed, leadS: 10, tailS: 40 });
    const { centres } = measureMaximumOutput([capture], spec);
    for (const { driveDb, levelAtMicrophoneDb } of centres) {
      expect(driveDb).toBeCloseTo(-6, 9);
      expect(Math.abs((levelAtMicrophoneDb as number) - PEAK_DB + 6)).toBeLessThan(2);
    }
  });

  it('also where a unit gives nothing any more at the highest levels', () => {
    const gain = ({ levelDbfs }: ScheduledBurst) => (levelDbfs > -13 ? 0 : 1);
    const capture = playBursts(spec, { gain, noise: 1e-4, leadS: 2 });
    const { centres } = measureMaximumOutput([capture], spec);
    for (const { driveDb, stoppedBy } of centres) {
      expect(driveDb).toBeCloseTo(-15, 9);
      expect(stoppedBy).toBe('compression');
    }
  });

  it('by the samples of a stimulus that was read back, by its step, or by its spec', () => {
    const capture = playBursts(spec, { unit: square(2.2) });
    const made = makeBursts(spec, { format: 'pcm16' });
    for (const stimulus of [made, makeRecording(made.wav, { role: 'stimulus' })]) {
      const { centres } = measureMaximumOutput([capture], stimulus);
      expect(centres.map(({ centreHz, stoppedBy }) => ({ centreHz, stoppedBy }))).toEqual(
        clean.centres.map(({ centreHz, stoppedBy }) => ({ centreHz, stoppedBy })),
      );
      centres.forEach(({ driveDb }, i) => {
        expect(driveDb).toBeCloseTo(clean.centres[i].driveDb as number, 2);
      });
    }
  });

  it('in the channel that is named', () => {
    const one = decodeWav(playBursts(spec)).channels[0];
    const wav = writeWav({ sampleRateHz: 8000, channels: [new Float32Array(one.length), one] });
    const capture = makeRecording(wav, { label: 'two channels' });
    expect(measureMaximumOutput([capture], spec, { channel: 2 }).centres[0].driveDb).toBeCloseTo(-6, 9);
    expect(() => measureMaximumOutput([capture], spec)).toThrow(expect.objectContaining({ code: 'bursts-not-found' }));
    expect(() => measureMaximumOutput([capture], spec, { channel: 3 })).toThrow(
      expect.objectContaining({ code: 'no-such-channel' }),
    );
  });

  it('in some of several captures, the others being named', () => {
    const noise = { ...playBursts(spec, { unit: () => 0, noise: 0.1 }), label: 'traffic' };
    const capture = playBursts(spec);
    const { recordings, caveats } = measureMaximumOutput([noise, capture], spec);
    expect(recordings).toEqual([capture.id]);
    expect(caveats[0]).toMatchObject({ code: 'output-capture-left-out', values: { label: 'traffic' } });
  });

  it('and not in noise or in other bursts', () => {
    const noise = playBursts(spec, { unit: () => 0, noise: 0.1 });
    const other = playBursts({ ...spec, fromHz: 100, toHz: 125 });
    for (const capture of [noise, other]) {
      expect(() => measureMaximumOutput([capture], spec)).toThrow(
        expect.objectContaining({ code: 'bursts-not-found' }),
      );
    }
  });
});

describe('what is refused', () => {
  const capture = playBursts({ ...spec, highestDbfs: -27 });
  it.each([
    [[], {}, 'no-captures'],
    [[capture], { measuredAtM: 0 }, 'distance'],
    [[capture], { limits: [] }, 'bad-limits'],
    [[capture], { limits: [{ fromOrder: 1, toOrder: null, limitDb: -10 }] }, 'bad-limits'],
    [[capture], { limits: [{ fromOrder: 3, toOrder: 2, limitDb: -10 }] }, 'bad-limits'],
    [[capture], { limits: [{ fromOrder: 3, toOrder: 3, limitDb: Number.NaN }] }, 'bad-limits'],
  ])('%#', (captures, options, code) => {
    expect(() => measureMaximumOutput(captures, spec, options)).toThrow(expect.objectContaining({ code }));
  });
});
