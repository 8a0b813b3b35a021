import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { BurstSpec, SweepSpec } from '../../lib';
import { demoSoundRig, makeBursts, makeSweep, measureMaximumOutput, playRig, setUpBench } from '../../lib';
import type { Distortion, Exposure, Findings, Ladder, MaximumOutput } from '../../lib/model/findings';
import { findingsSchema } from '../../lib/model/schemas';
import { chromiumPath } from '../chromium';
import { openPage, startBrowser } from '../report/browser';
import { countWords } from '../report/countWords';
import { type RunningScript, root, runScript } from './script';

/*
 * The demo's two tabs. The second, from sweep to report, is held against what is true of its virtual rig: closed forms of a tone
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

let truths: Record<string, Tell>;
let outputs: Record<string, MaximumOutput>;
beforeAll(() => {
  truths = Object.fromEntries(SETTINGS.map((setting) => [setting, truthOf(setting)]));
  outputs = Object.fromEntries(SETTINGS.map((setting) => [setting, quietOutputOf(setting)]));
});

/** Findings and page as a tab wrote them, once it has said so. */
async function reported(running: RunningScript, path: string): Promise<{ folder: string; found: Findings }> {
  const url = `http://127.0.0.1:${running.port}${path}`;
  await running.said(`address  ${url}\n`);
  const log = running.log();
  expect(log).not.toMatch(/\[(error|debug:problem)\]/);
  const folder = log.slice(0, log.indexOf(`address  ${url}\n`)).match(/folder\s+(\S+)\s*$/)?.[1] as string;
  const answer = await fetch(url);
  expect(answer.status).toBe(200);
  expect(answer.headers.get('content-type')).toMatch(/text\/html/);
  expect(readFileSync(join(folder, 'report.html'), 'utf8')).toBe(await answer.text());
  const found = findingsSchema.parse(JSON.parse(readFileSync(join(folder, 'findings.json'), 'utf8')));
  expect(found.schemaVersion).toBe(2);
  return { folder, found };
}

// One process for both tabs: the second goes on while the first is looked at.
describe.each(['node-red', 'node-red-4'])('the demo on %s', (nodeRed) => {
  let running: RunningScript;
  beforeAll(async () => {
    running = await runScript('start', nodeRed);
  });
  afterAll(() => running?.stop());

  it('reports on the bundled session by itself', async () => {
    const { folder, found } = await reported(running, '/bassloom/report');
    await expectShort(folder, nodeRed);
    expect((await fetch(`http://127.0.0.1:${running.port}`)).status).toBe(200);
    expect(existsSync(join(folder, 'ceilings.csv'))).toBe(true);
    expect(found.ladder?.map(({ setting, rungs }) => [setting, rungs.length])).toEqual([
      ['shelf-flat', 10],
      ['shelf-lifted', 10],
    ]);
    // Made with steps of 2.95 dB where 3 dB were commanded (lib/rig/demoRig.ts)
    for (const { step } of found.ladder ?? []) {
      const offDb = Math.abs((step.measuredDb as number) - 2.95);
      expect(offDb).toBeLessThan(0.05);
      expect(offDb).toBeLessThan(step.uncertaintyDb as number);
    }
    expectOneDrive(found);
  });

  // the numbers do not depend on the version, and the lab of the older one is tried with recordings too
  it.runIf(nodeRed === 'node-red')(
    'ends in a report that holds everything, with the numbers that are true',
    async () => {
      const { folder, found } = await reported(running, '/bassloom/sweep-report');
      await expectShort(folder, nodeRed);
      for (const table of ['curves', 'compression-ladder', 'distortion', 'maximum-output', 'captures']) {
        expect([table, existsSync(join(folder, `${table}.csv`))]).toEqual([table, true]);
      }
      expectOneDrive(found);
      expect(found.captureQuality).toHaveLength(SETTINGS.length * DRIVES.length);
      expect(found.captureQuality?.filter(({ verdict }) => verdict !== 'good')).toEqual([]);
      const hums = found.captureQuality?.flatMap(({ humHz }) =>
        humHz.map(({ frequencyHz }) => Math.round(frequencyHz)),
      );
      expect(hums).toContain(50);
      // the gain is set as the README says: the loudest sweep peaks near -12 dB re full scale
      const loudest = Math.max(...(found.captureQuality ?? []).map(({ peakDbfs }) => peakDbfs));
      expect(Math.abs(loudest + 12)).toBeLessThan(2);
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
    },
  );
});

/** One screen that people read, and no long page behind it. The page does not depend on the version: one is looked at. */
async function expectShort(folder: string, nodeRed: string): Promise<void> {
  if (!chromiumPath || nodeRed !== 'node-red') return;
  const browser = await startBrowser();
  try {
    for (const [width, height] of [
      [1280, 800],
      [390, 844],
    ]) {
      const html = readFileSync(join(folder, 'report.html'), 'utf8');
      const { page } = await openPage(browser, html, { width, height });
      const words = await countWords(page);
      expect(words.first).toBeLessThanOrEqual(150);
      expect(words.shown).toBeLessThan(1500);
      expect(words.headlines.length).toBeGreaterThanOrEqual(3);
      expect(words.headlines.length).toBeLessThanOrEqual(7);
      expect(Math.max(...words.headlines)).toBeLessThanOrEqual(20);
      expect(words.bottom).toBeLessThanOrEqual(height);
    }
  } finally {
    await browser.close();
  }
}

/** Both settings are fitted at every drive, so that a verdict can show both at one; where it does, it is one. */
function expectOneDrive({ bandFit = [], rollOff = [], conclusions }: Findings): void {
  const runsOf = (findings: { about: { setting?: string; driveDb?: number } }[], setting: string) =>
    findings.filter(({ about }) => about.setting === setting).map(({ about }) => about.driveDb);
  for (const findings of [bandFit, rollOff]) {
    expect(runsOf(findings, SETTINGS[0]).length).toBeGreaterThan(6);
    expect(runsOf(findings, SETTINGS[1])).toEqual(runsOf(findings, SETTINGS[0]));
  }
  const drives = conclusions?.settings.map(({ shown }) => shown?.driveDb) ?? [];
  expect(new Set(drives).size).toBeLessThan(2);
}

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
    // at the onset found the limiter takes 1 dB more than at the lowest rung, between straight lines
    const lostDb = DRIVES.map((driveDb) => truth(driveDb, hz).lossDb - truth(0, hz).lossDb);
    const over = lostDb.findIndex((db) => db >= 1);
    const found = onset.find(({ compressionDb }) => compressionDb === 1)?.driveDb[band];
    if (found === null || found === undefined || over < 1) return;
    const rung = Math.min(Math.floor(found / 3), DRIVES.length - 2);
    const lostAtFound = lostDb[rung] + ((lostDb[rung + 1] - lostDb[rung]) * (found - DRIVES[rung])) / 3;
    // the most that noise can do to the rung that the others are held against
    const reference = snrDb.findIndex((rungs) => (rungs[band] ?? 0) >= 20);
    const noiseDb = 20 * Math.log10(1 + 10 ** (-(snrDb[reference]?.[band] ?? 0) / 20));
    if (Math.abs(lostAtFound - 1) > 0.3 + noiseDb) errors.push({ onset: hz, found, lostAtFound, noiseDb });
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
  expect(checked).toBeGreaterThan(12);
  // in the loudest rung THD is seen over the octave and a half in which a subwoofer works hardest
  const loudest = trusted[DRIVES.length - 1];
  const inReach = bandsHz.map((hz, band) => (hz > 18 && hz < 65 ? loudest[band] : true));
  expect(inReach.every(Boolean)).toBe(true);
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
  expect(found.assumption.place).toBe('room');
  // nominal centres of IEC 61260-1, rounded
  expect(found.centres.map(({ centreHz }) => Math.round(centreHz))).toEqual([20, 25, 32, 40, 50, 63]);
  found.centres.forEach((centre, i) => {
    const { driveDb, stoppedBy, levelAtMicrophoneDb } = quiet.centres[i];
    expect(centre).toMatchObject({ driveDb, stoppedBy, trusted: true });
    const [level, trueLevel] = [centre.levelAtMicrophoneDb, levelAtMicrophoneDb] as number[];
    expect(Math.abs(level - trueLevel)).toBeLessThan(0.2);
    expect(trueLevel).toBeGreaterThan(60);
    // a level in a room holds the room's part, so it is not brought to other distances
    expect([centre.peakAt1mDb, centre.rmsAt2mDb]).toEqual([null, null]);
  });
  expect(new Set(found.centres.map(({ stoppedBy }) => stoppedBy)).size).toBeGreaterThan(1);
}
