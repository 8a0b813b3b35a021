import { describe, expect, it } from 'vitest';
import { powerIntegral } from '../../lib/response/powerIntegral';
import { setUpBench } from '../../lib/rig/bench';
import { compressionTruth, onsetTruth } from '../../lib/rig/compressionTruth';
import { demoRig } from '../../lib/rig/demoRig';
import { drawRig } from '../../lib/rig/drawRig';
import { sessionTruth } from '../../lib/rig/sessionTruth';
import { hingeBelow, settingTruth } from '../../lib/rig/settingTruth';

describe('the truth of a session', () => {
  it('is plain JSON', () => {
    const truth = sessionTruth(demoRig());
    expect(JSON.parse(JSON.stringify(truth))).toEqual(truth);
  });

  it('has the band levels that a fine, silent, steady measurement would show', () => {
    const rig = drawRig(2, {
      noise: undefined,
      microphone: undefined,
      scatter: { gainDb: 0, shapeDb: 0 },
      grid: { kind: 'linear', startHz: 4, endHz: 300, stepHz: 0.02 },
    });
    const truth = sessionTruth(rig);
    const bench = setUpBench(rig);
    const rung = rig.drive.rungs - 1;
    const run = bench.measure({ setting: 'flat', driveDb: rung * rig.drive.commandedStepDb });
    const integral = powerIntegral(run.frequencyHz, run.levelDb);
    truth.bands[0].bandsHz.forEach((hz, band) => {
      const level = integral.meanDb(hz * 10 ** -0.05, hz * 10 ** 0.05);
      expect(Math.abs(level - truth.bands[0].levelDb[rung][band])).toBeLessThan(0.01);
    });
  });

  it('knows no compression of a unit without limiter', () => {
    const { heatDriveDb: _, limiter: __, ...unit } = drawRig(3).unit;
    const [bands] = sessionTruth(drawRig(3, { unit })).bands;
    for (let band = 0; band < bands.bandsHz.length; band++) {
      const { lossDb, compressionDb, lastShare } = compressionTruth(bands, band, { referenceRung: 0 });
      for (const db of [...lossDb, ...compressionDb]) expect(db).toBeCloseTo(0, 9);
      expect(lastShare).toBeCloseTo(1, 9);
    }
  });

  it('counts compression from the lowest rung that stands 20 dB above the noise', () => {
    const bands = {
      setting: 'flat',
      bandsHz: [25],
      driveDb: [0, 3, 6, 9],
      levelDb: [[60], [63], [65], [65.5]],
      linearDb: [[60], [63], [66], [69]],
      snrDb: [[17], [20], [22], [22.5]],
    };
    const truth = compressionTruth(bands, 0);
    expect(truth.referenceRung).toBe(1);
    expect(truth.compressionDb).toEqual([null, 0, 1, 3.5]);
    expect(truth.lossDb).toEqual([0, 0, 1, 3.5]);
    expect(truth.ceilingDb).toBe(65.5);
    expect(truth.lastShare).toBeCloseTo(1 / 6, 9);
    expect(compressionTruth(bands, 0, { stepDb: 2.9 }).compressionDb[3]).toBeCloseTo(3.3, 9);
    expect(onsetTruth(truth.compressionDb, 3, 1)?.driveDb).toBeCloseTo(6, 9);
    expect(onsetTruth(truth.compressionDb, 3, 3)?.driveDb).toBeCloseTo(8.4, 9);
    expect(onsetTruth(truth.compressionDb, 3, 4)).toBeNull();
  });

  it('puts the hinge of a shelf at its corner, and that of a high-pass by its value at the bottom', () => {
    const flat = { name: 'flat', equaliser: { kind: 'flat' as const } };
    for (const order of [1, 2] as const) {
      const shelf = { name: 'shelf', equaliser: { kind: 'shelf' as const, hz: 24, gainDb: -5, order } };
      expect(settingTruth(shelf, flat).hingeHz).toBeCloseTo(24, 6);
      expect(settingTruth(shelf, flat).asymptoteDb).toBe(-5);
      expect(settingTruth(flat, shelf).asymptoteDb).toBe(5);
    }
    const chain = {
      name: 'chain',
      equaliser: {
        kind: 'chain' as const,
        stages: [
          { kind: 'shelf' as const, hz: 20, gainDb: 3, order: 1 as const },
          { kind: 'shelf' as const, hz: 20, gainDb: 4, order: 2 as const, q: 0.6 },
        ],
      },
    };
    expect(settingTruth(chain, flat).asymptoteDb).toBe(7);
    expect(settingTruth(chain, flat).hingeHz).toBeCloseTo(20, 6);
    const cut = { name: 'cut', equaliser: { kind: 'high-pass' as const, f0Hz: 20, q: Math.SQRT1_2 } };
    expect(settingTruth(cut, flat).hingeHz).toBeNull();
    // Butterworth high-pass: 10 lg (1 + (20/f)^4) dB lost; at 10 Hz 12.30 dB, half of it where (20/f)^4 = 10^0.6152 - 1
    expect(hingeBelow(cut.equaliser, flat.equaliser, 10)).toBeCloseTo(
      20 / (10 ** (0.5 * Math.log10(17)) - 1) ** 0.25,
      6,
    );
  });

  it('lists dips only where a room is, the deeper the more prominent', () => {
    expect(sessionTruth(drawRig(3, { room: undefined })).dips).toEqual([]);
    const { dips } = sessionTruth(demoRig());
    expect(dips.filter((dip) => dip.prominenceDb > 10).length).toBeGreaterThanOrEqual(2);
    expect(dips.every((dip) => dip.prominenceDb >= 3 && dip.frequencyHz >= 15 && dip.frequencyHz <= 200)).toBe(true);
  });

  it('finds the dips of a closed duct where the standing wave has its nodes', () => {
    // driven at one end, the pressure in a stiff duct goes as cos k(L - x): nodes a quarter wave (and odd multiples)
    // before the far wall, f = (2n + 1) c / 4 (L - x); here L - x = 2.8 m, c = 331.3 sqrt(1 + 20/273.15) m/s
    const room = {
      lengthM: 4,
      widthM: 0.3,
      heightM: 0.3,
      temperatureC: 20,
      decayS: 1.5,
      source: [0, 0.1, 0.1] as [number, number, number],
      microphone: [1.2, 0.2, 0.2] as [number, number, number],
    };
    const c = 331.3 * Math.sqrt(1 + 20 / 273.15);
    const dips = sessionTruth(drawRig(3, { room })).dips.map((dip) => dip.frequencyHz);
    for (const n of [0, 1, 2]) {
      const node = ((2 * n + 1) * c) / (4 * 2.8);
      expect(Math.min(...dips.map((hz) => Math.abs(Math.log2(hz / node))))).toBeLessThan(0.01);
    }
    // the only other one is the trough between two modes of equal sign
    expect(dips.length).toBe(4);
  });
});
