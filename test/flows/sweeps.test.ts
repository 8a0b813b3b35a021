import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { BurstSpec, SweepSpec } from '../../lib';
import { demoSoundRig, makeBursts, makeSweep, measureMaximumOutput, playRig, setUpBench } from '../../lib';
import type { Distortion, Exposure, Findings, Ladder, MaximumOutput } from '../../lib/model/findings';
import { findingsSchema } from '../../lib/model/schemas';
import { type RunningScript, root, runScript } from './script';

/*
 * The second tab of the demo, from sweep to report, held against what is true of its virtual rig: closed forms of a tone
 * as that sweep passes it (lib/rig/sound/toneTruth.ts), never samples.
 */

const nodes: Record<string, string>[] = JSON.parse(readFileSync(join(root, 'flows/demo/demo.json'), 'utf8'));
const nodeOf = (id: string) => nodes.find((node) => node.id === `bl-sound-${id}`) as Record<string, string>;
const numbers = (node: Record<string, string>, names: string[]) =>
  Object.fromEntries(names.map((name) => [name, Number(node[name])]));
const sweep = {
  ...numbers(nodeOf('sweep'), ['startHz', 'endHz', 'seconds', 'levelDbfs']),
  sampleRateHz: 48000,
} as unknown as Required<SweepSpec>;
const bursts: BurstSpec = {
  ...numbers(nodeOf('bursts'), ['fromHz', 'toHz', 'lowestDbfs', 'highestDbfs', 'stepDb', 'gapSeconds']),
  sampleRateHz: 48000,
};
const burstRig = nodeOf('rig2');
const SETTINGS = ['shelf-flat', 'shelf-lifted'];
const DRIVES = [0, 3, 6, 9, 12, 15, 18];
const POINTS = 24;

interface Truth {
  levelDb: number;
  thdPercent: number;
  lossDb: number;
}

/** What is true of a third octave in a run: means of power, equal weight to each Hz. */
type Tell = (driveDb: number, centreHz: number) => Truth;

/** A run is known by its setting and drive: the shortest of sounds will do to have its truth told. */
function truthOf(setting: string): Tell {
  const short = makeSweep({ ...sweep, startHz: 100, seconds: 0.1 });
  const told = new Map(DRIVES.map((driveDb) => [driveDb, playRig(demoSoundRig(), short, { setting, driveDb }).truth]));
  const known = new Map<string, Truth>();
  return (driveDb, centreHz) => {
    const key = `${driveDb} ${centreHz.toFixed(2)}`;
    const hz = Array.from({ length: POINTS }, (_, i) => centreHz * 10 ** (-0.05 + (0.1 * (i + 0.5)) / POINTS));
    const reckon = (): Truth => {
      const tone = told.get(driveDb)!.tone(hz, { toneDbfs: sweep.levelDbfs, sweep });
      let [width, power, harmonics, free] = [0, 0, 0, 0];
      hz.forEach((f, i) => {
        const here = f * 10 ** (tone.splDb[i] / 10);
        width += f;
        power += here;
        free += here * 10 ** (tone.limiterLossDb[i] / 10);
        harmonics += here * (tone.thdCorrectedPercent[i] / 100) ** 2;
      });
      return {
        levelDb: 10 * Math.log10(power / width),
        thdPercent: 100 * Math.sqrt(harmonics / power),
        lossDb: 10 * Math.log10(free / power),
      };
    };
    const truth = known.get(key) ?? reckon();
    known.set(key, truth);
    return truth;
  };
}

let running: RunningScript | undefined;
afterEach(() => running?.stop());

let truths: Record<string, Tell>;
let outputs: Record<string, MaximumOutput>;
beforeAll(() => {
  truths = Object.fromEntries(SETTINGS.map((setting) => [setting, truthOf(setting)]));
  outputs = Object.fromEntries(SETTINGS.map((setting) => [setting, quietOutputOf(setting)]));
});

describe.each(['node-red', 'node-red-4'])('the way from sweep to report on %s', (nodeRed) => {
  it('ends in a report that holds everything, with the numbers that are true', async () => {
    running = await runScript('start', nodeRed);
    await running.said('band levels can be trusted', 2);
    await running.said('Report of Marrowby-12, from sweeps and bursts');
    await running.said('captures are good');
    const log = running.log();
    const url = `http://127.0.0.1:${running.port}/bassloom/sweep-report`;
    expect(log).toContain(url);
    expect(log).not.toMatch(/\[(error|debug:problem)\]/);
    const folder = /folder\s+(\S*sweep-reports\S*)/.exec(log)?.[1] as string;
    const page = await (await fetch(url)).text();
    expect(readFileSync(join(folder, 'report.html'), 'utf8')).toBe(page);
    for (const table of ['curves', 'compression-ladder', 'distortion', 'maximum-output', 'captures']) {
      expect([table, existsSync(join(folder, `${table}.csv`))]).toEqual([table, true]);
    }

    const found = findingsSchema.parse(JSON.parse(readFileSync(join(folder, 'findings.json'), 'utf8'))) as Findings;
    expect(found.captureQuality).toHaveLength(SETTINGS.length * DRIVES.length);
    expect(found.captureQuality?.some(({ warnings }) => /hum at 50/.test(warnings.join()))).toBe(true);
    expect(found.roomFeatures?.length).toBeGreaterThan(3);
    expect(found.bandFit).toHaveLength(SETTINGS.length * DRIVES.length);
    expect(found.rollOff?.length).toBeGreaterThan(1);
    expect(found.settingDifference).toHaveLength(1);
    // low bass: A reads far less than C (IEC 61672-1: 44 dB less at 20 Hz, 24 dB at 63 Hz, from memory)
    const { levelDba, levelDbc, permittedSeconds } = found.exposure as Exposure;
    expect((levelDbc as number) - (levelDba as number)).toBeGreaterThan(15);
    expect(permittedSeconds).toBeGreaterThan(0);
    for (const setting of SETTINGS) {
      const of = <T extends { setting?: string }>(list: T[] | undefined) =>
        list?.find((one) => one.setting === setting) as T;
      checkLadder(of(found.ladder), truths[setting]);
      checkDistortion(of(found.distortion), truths[setting]);
      checkMaximumOutput(of(found.maximumOutput), outputs[setting]);
    }
  });
});

function checkLadder({ rungs, bandsHz, levelDb, snrDb, trusted, onset }: Ladder, truth: Tell): void {
  expect(rungs.map(({ driveDb }) => driveDb)).toEqual(DRIVES);
  const errors: object[] = [];
  let checked = 0;
  bandsHz.forEach((hz, band) => {
    if (hz < 12 || hz > 252) return;
    DRIVES.forEach((driveDb, rung) => {
      const snr = snrDb[rung][band];
      if (!trusted[rung][band] || snr === null || snr < 20) return;
      const error = (levelDb[rung][band] as number) - truth(driveDb, hz).levelDb;
      // the most that noise can do to a tone
      const noiseDb = 20 * Math.log10(1 + 10 ** (-snr / 20));
      if (Math.abs(error) > Math.max(0.2, noiseDb)) errors.push({ level: hz, driveDb, snr, error });
      checked++;
    });
    // where the limiter takes 1 dB more than at the lowest rung, between straight lines
    const lostDb = DRIVES.map((driveDb) => truth(driveDb, hz).lossDb - truth(0, hz).lossDb);
    const over = lostDb.findIndex((db) => db >= 1);
    const found = onset.find(({ compressionDb }) => compressionDb === 1)?.driveDb[band];
    if (found === null || found === undefined || over < 1) return;
    const expected = DRIVES[over - 1] + (3 * (1 - lostDb[over - 1])) / (lostDb[over] - lostDb[over - 1]);
    if (Math.abs(found - expected) > 1.5) errors.push({ onset: hz, found, expected });
  });
  expect(errors).toEqual([]);
  expect(checked).toBeGreaterThan(70);
}

function checkDistortion({ bandsHz, thdPercent, noisePercent, trusted }: Distortion, truth: Tell): void {
  const errors: object[] = [];
  let checked = 0;
  bandsHz.forEach((hz, band) => {
    if (hz < 15.8 || hz > 80) return;
    DRIVES.forEach((driveDb, rung) => {
      const [percent, noise] = [thdPercent[rung][band], noisePercent[rung][band]];
      if (!trusted[rung][band] || percent === null || noise === null || percent < 5 * noise) return;
      const error = 20 * Math.log10(percent / truth(driveDb, hz).thdPercent);
      // half of the most that noise can do
      const noiseDb = 10 * Math.log10(1 + noise / percent);
      if (Math.abs(error) > Math.max(0.3, noiseDb)) errors.push({ thd: hz, driveDb, percent, noise, error });
      checked++;
    });
  });
  expect(errors).toEqual([]);
  expect(checked).toBeGreaterThan(5);
}

/** What the same bursts give where nothing hums, hisses or drifts. */
function quietOutputOf(setting: string): MaximumOutput {
  const { noise, ...rig } = demoSoundRig();
  const stimulus = makeBursts(bursts);
  const { capture, truth } = playRig(rig, stimulus, { setting, driveDb: Number(burstRig.driveDb) });
  const correction = setUpBench(demoSoundRig()).correction();
  return measureMaximumOutput([capture], stimulus, { fullScaleDb: truth.fullScaleDb, correction });
}

function checkMaximumOutput(found: MaximumOutput, quiet: MaximumOutput): void {
  expect(found.scale).toBe('spl');
  expect(found.measuredAtM).toBeCloseTo(3.37, 2);
  // nominal centres of IEC 61260-1, rounded
  expect(found.centres.map(({ centreHz }) => Math.round(centreHz))).toEqual([20, 25, 32, 40, 50, 63]);
  found.centres.forEach((centre, i) => {
    const { driveDb, stoppedBy, peakAt1mDb } = quiet.centres[i];
    expect(centre).toMatchObject({ driveDb, stoppedBy, trusted: true });
    expect(Math.abs((centre.peakAt1mDb as number) - (peakAt1mDb as number))).toBeLessThan(0.2);
  });
  expect(new Set(found.centres.map(({ stoppedBy }) => stoppedBy)).size).toBeGreaterThan(1);
}
