import { describe, expect, it } from 'vitest';
import { burstSchedule, makeCurve, makeRecording, writeWav } from '../../lib';
import type { About, Curve, Measurement } from '../../lib/model/curve';
import { makeBursts } from '../../lib/signal/makeBursts';
import { deconvolved } from '../deconvolved';
import { judgeSession } from './judgeSession';
import { VARIANTS } from './sessions';
import { DRIVES, randomOf, type Session, simulateNoise, simulateSession } from './simulatedSession';

/** Runs with their second and third harmonic, which rise by a dB with each dB of drive. */
function withHarmonics(session: Session, percentAt: (hz: number, run: number) => number): Curve[] {
  return simulateSession(session).flatMap((response, run) => {
    const steps = [deconvolved(response.label)];
    const { frequencyHz, about, label } = response;
    const harmonic = (order: number, part: number) =>
      makeCurve({
        ...{ role: 'harmonic', order, frequencyHz, about, label, steps, scale: 'relative' },
        levelDb: frequencyHz.map((hz) => 20 * Math.log10((part * percentAt(hz, run)) / 100)),
        noiseDb: frequencyHz.map(() => -80),
      });
    return [makeCurve({ ...response, steps }), harmonic(2, 0.8), harmonic(3, 0.6)];
  });
}

/** 0.3 % at the lowest drive, 3.4 % at the highest. */
const clean = (_hz: number, run: number) => 0.3 * 10 ** (DRIVES[run] / 20);

function distortionOf(session: Session, percentAt: (hz: number, run: number) => number) {
  const { findings } = judgeSession([...withHarmonics(session, percentAt), simulateNoise(session)]);
  const { headlines, details } = findings.conclusions!;
  return {
    distortion: findings.distortion![0],
    codes: findings.distortion![0].caveats.map(({ code }) => code),
    told: [...headlines, ...details].filter(({ code }) => code.startsWith('thd')),
  };
}

describe.each(VARIANTS)('the distortion of a ladder with $points points', (grid) => {
  it.each([
    ['in all bands', (_hz: number) => true],
    ['in some bands', (hz: number) => hz > 25 && hz < 45],
  ])('passes a percentage where it did without one run that is spoiled %s', (_what, isHit) => {
    const whole = distortionOf(grid, clean);
    const found = distortionOf(grid, (hz, run) => (run === 2 && isHit(hz) ? 12 : clean(hz, run)));
    expect(whole.codes).not.toContain('thd-outlier');
    expect(found.codes).toContain('thd-outlier');
    for (const [k, { percent, driveDb }] of found.distortion.passes.entries()) {
      expect(percent).toBe(whole.distortion.passes[k].percent);
      driveDb.forEach((drive, band) => {
        const wanted = whole.distortion.passes[k].driveDb[band];
        if (drive === null || wanted === null) expect(drive).toBe(wanted);
        else expect(Math.abs(drive - wanted)).toBeLessThan(0.2);
      });
    }
    expect(found.told.map(({ text }) => text)).toEqual(whole.told.map(({ text }) => text));
  });
});

const SPEC = { sampleRateHz: 4000, fromHz: 25, toHz: 63, lowestDbfs: -30, highestDbfs: -9, stepDb: 3, gapSeconds: 0.7 };
const NB = '\u00a0';

/** Bursts through a unit that bends and a room of some echoes, as a microphone there records them. */
function captured(about: About): Measurement {
  const { samples } = burstSchedule(SPEC);
  const random = randomOf(77);
  const echoes = [[0, 1], ...[7, 13, 22, 38].map((ms) => [ms / 1000, 0.7 * (random() - 0.5)])];
  const out = new Float64Array(samples.length + SPEC.sampleRateHz);
  for (const [lateS, gain] of echoes) {
    const late = Math.round((0.4 + lateS) * SPEC.sampleRateHz);
    samples.forEach((x, n) => {
      if (n + late < out.length) out[n + late] += gain * (x - 1.5 * x ** 3);
    });
  }
  for (let n = 0; n < out.length; n++) out[n] += 1e-5 * (random() + random() - 1);
  const wav = writeWav({ sampleRateHz: SPEC.sampleRateHz, channels: [out] }, { format: 'float32' });
  return makeRecording(wav, { label: 'bursts', about });
}

/** A session of curves and bursts; what is said of bursts. */
function burstsIn(place: 'room' | 'half space' | undefined, about: About) {
  const bursts = { stimulus: makeBursts(SPEC), options: { fullScaleDb: 120, ...(place && { place }) } };
  const { findings, report } = judgeSession([...simulateSession({ points: 60 }), captured(about)], { bursts });
  const { headlines, details } = findings.conclusions!;
  return {
    output: findings.maximumOutput![0],
    said: [...headlines, ...details].map(({ text }) => text),
    html: report.html,
  };
}

describe('bursts', () => {
  const about = { device: 'unit', setting: 'plain', distanceM: 3 };

  it.each(['room', undefined] as const)(
    'from inside a room (%s) are levels at the microphone wherever they stand',
    (place) => {
      const { output, said, html } = burstsIn(place, about);
      for (const { peakAt1mDb, rmsAt2mDb } of output.centres) expect([peakAt1mDb, rmsAt2mDb]).toEqual([null, null]);
      expect(said.some((text) => /^Bursts at/.test(text))).toBe(true);
      for (const text of said) expect(text).not.toMatch(/[12]\s?m\b|converted/);
      const body = html.slice(html.indexOf('<main'), html.indexOf('</main>'));
      expect(body).toContain('peak level at the microphone');
      expect(body).toContain('Peak at the microphone in dB');
      expect(body).toContain('Bursts, peak at the microphone');
      expect(body).not.toMatch(new RegExp(`Peak at 1${NB}m|peak at 1${NB}m|[Rr]ms at 2${NB}m`));
    },
  );

  it('from the ground outdoors say both distances wherever they stand', () => {
    const { output, said, html } = burstsIn('half space', about);
    for (const { levelAtMicrophoneDb, peakAt1mDb } of output.centres) {
      // 3 m to 1 m, by inverse distance
      if (peakAt1mDb !== null) expect(peakAt1mDb - levelAtMicrophoneDb!).toBeCloseTo(20 * Math.log10(3), 6);
    }
    const burst = said.filter((text) => text.startsWith('Bursts'));
    expect(burst.length).toBeGreaterThan(0);
    for (const text of burst) expect(text).toContain(`converted from 3 to 1${NB}m`);
    expect(html).toContain(`calculated from 3${NB}m by inverse distance (half space)`);
    expect(html).toMatch(/peak at least [\d.]+\u00a0dB at 1\u00a0m, rms at least [\d.]+\u00a0dB at 2\u00a0m/);
  });
});
