import { mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { Room } from '../../lib';
import {
  buildLadder,
  compareSettings,
  demoRig,
  findRoomFeatures,
  fitBand,
  fitRollOff,
  makeRecording,
  makeSweep,
  predictRoom,
} from '../../lib';
import { checkFindings } from '../../lib/model/checkFindings';
import { checkMeasurement } from '../../lib/model/checkMeasurement';
import type { Findings } from '../../lib/model/findings';
import { capture as qualityOf } from '../analysis/conclusions/session';
import { deconvolved } from '../deconvolved';
import { type AnyMessage, nodeFile, pause, response, useNodeRed } from './bench';

const require = createRequire(import.meta.url);
const { 'node-red': declared } = require('../../package.json');

/** How many odd messages every node is given: more by hand, `BASSLOOM_ODD=100` makes some 2000 in all. */
const EACH = Number(process.env.BASSLOOM_ODD ?? 8);
const SEED = Number(process.env.BASSLOOM_ODD_SEED ?? 1);

const folder = mkdtempSync(join(tmpdir(), 'bassloom-'));
afterAll(() => rmSync(folder, { recursive: true }));
const { deploy } = useNodeRed();

function randomOf(seed: number): () => number {
  let state = seed * 2654435761;
  return () => {
    state = (state * 1664525 + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** A session of two settings and three drives with all that earlier nodes may have found of it. */
function session(): AnyMessage {
  const levelAt = (hz: number, driveDb: number) => 80 + driveDb - 12 * Math.log2(1 + (30 / hz) ** 2);
  const runs = ['flat', 'deep'].flatMap((setting, k) =>
    [0, 3, 6].map((driveDb) =>
      response(
        (hz) => levelAt(hz, driveDb) + k * Math.log2(80 / hz),
        { device: 'a', setting, driveDb },
        {
          label: `a ${setting} ${driveDb}`,
          steps: [deconvolved(`${setting} ${driveDb}`)],
        },
      ),
    ),
  );
  const overtones = runs.map((run, i) =>
    response(() => -30 - i, run.about, { label: `${run.label}, harmonic 2`, role: 'harmonic', order: 2 }),
  );
  const noise = response(() => 30, {}, { role: 'noise', label: 'noise' });
  const room = demoRig().room as Room;
  const ladder = [buildLadder([...runs.slice(0, 3), noise]), buildLadder([...runs.slice(3), noise])];
  const findings = {
    ladder,
    roomFeatures: findRoomFeatures(runs, { room }),
    roomPrediction: predictRoom(room),
    bandFit: [fitBand(runs[0])],
    rollOff: [fitRollOff(runs[0])],
    settingDifference: [compareSettings(runs[3], runs[0])],
    captureQuality: runs.map((run) => qualityOf(run.label, 'good', run.about)),
    notes: [{ code: 'odd-note', severity: 'remark', where: { file: 'a flat 0' }, values: {}, message: 'Noted.' }],
  };
  const settings = {
    ...{ heightDb: 5, rangeLowHz: 15, rangeHighHz: 200, atHz: [20], onsetsDb: [1], percents: [3], minConfidence: 0.5 },
    ...{
      fraction: 6,
      curves: 'every',
      procedure: { windowHeightDb: 5, temperatureC: 20 },
      room,
      title: 'a',
      date: 'b',
    },
  };
  return { payload: [...runs, ...overtones, noise], findings, topic: 'a', folder, ...settings };
}

/** A sweep and two captures of it, which are the sweep itself. */
function sounds(): AnyMessage {
  const stimulus = makeSweep({ startHz: 20, endHz: 200, seconds: 1, sampleRateHz: 4000, levelDbfs: -12 });
  const captures = [0, 3].map((driveDb) =>
    makeRecording(Buffer.from(stimulus.wav), {
      role: 'capture',
      label: `a ${driveDb}`,
      about: { device: 'a', driveDb },
    }),
  );
  return { payload: [stimulus, ...captures], topic: 'a', fullScaleDb: 120, channel: 1 };
}

const ODD = [
  ...[null, undefined, Number.NaN, Number.POSITIVE_INFINITY, -1, 0, -0, 1e308, 5e-324, 1e9, 2.5, '', 'x', '20', true],
  ...[[], {}, [null], new Float64Array(3), Buffer.from('x'), new Date(0), 10n, () => 1, new Map(), [[[[]]]]],
  ...['=1+1', '<b>', '../../x', '\u0000', 'x'.repeat(5000), { kind: 'curve' }, { length: 3 }, new Array(4)],
];

type Holder = Record<string | number, unknown>;

/** Every place in a message that can be changed; of long columns a few. */
function places(value: unknown, found: [Holder, string | number][] = []): [Holder, string | number][] {
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return found;
  const keys = Array.isArray(value)
    ? [...new Set([0, 1, 2, value.length >> 1, value.length - 1])].filter((i) => i >= 0 && i < value.length)
    : Object.keys(value);
  for (const key of keys) {
    found.push([value as Holder, key]);
    places((value as Holder)[key], found);
  }
  return found;
}

/** Change a message somewhere, once or a few times: another value, a column cut, turned round or doubled. */
function spoil(message: AnyMessage, random: () => number): string[] {
  const pick = <T>(list: T[]): T => list[Math.floor(random() * list.length)];
  const done: string[] = [];
  for (let times = random() < 0.7 ? 1 : 3; times > 0; times--) {
    const inPayload = random() < 0.5 ? places(message.payload) : [];
    const [holder, key] = pick(inPayload.length > 0 ? inPayload : places(message));
    const old = holder[key];
    const how = random();
    if (Array.isArray(old) && old.length > 1 && how < 0.5) {
      holder[key] = pick([
        old.slice(1),
        old.toReversed(),
        [...old, ...old],
        Float64Array.from(old),
        old.with(1, old[0]),
      ]);
    } else if (how < 0.6 && !Array.isArray(holder)) delete holder[key];
    else holder[key] = pick(ODD);
    done.push(
      `${String(key)}: ${typeof holder[key] === 'object' ? 'another object' : String(holder[key]).slice(0, 20)}`,
    );
  }
  return done;
}

const SLOW = new Set(['report', 'deconvolve', 'maximum-output', 'virtual-rig', 'tone-burst', 'sweep']);
const OF_SOUND = new Set(['calibration', 'deconvolve', 'maximum-output', 'virtual-rig']);
const kinds = Object.keys(declared.nodes)
  .map((type) => type.replace('bassloom-', ''))
  .filter((name) => !['room', 'procedure', 'import', 'sweep', 'tone-burst'].includes(name));

test.each(kinds)(
  '%s ends with every odd message once, refuses it in words or passes on what is sound',
  async (name) => {
    const flush = name === 'collect' ? { flush: true } : {};
    const config = { type: `bassloom-${name}`, quietS: '60', steps: '1', takes: '1', muted: false };
    const { node, seen, lastStatus } = await deploy([nodeFile(name)], config);
    const random = randomOf(SEED * 1000 + name.length);
    const told: unknown[] = [];
    node._complete = (_message: unknown, problem: unknown) => told.push(problem);
    const count = SLOW.has(name) ? Math.ceil(EACH / 4) : EACH;
    const tally = { sent: 0, refused: 0 };
    const base = (OF_SOUND.has(name) ? sounds : session)();
    for (let i = 0; i < count; i++) {
      const message: AnyMessage = { ...structuredClone(base), ...flush };
      const changes = spoil(message, random);
      const context = `${name}, message ${i}: ${changes.join('; ')}`;
      const sentBefore = seen.sent.length;
      node.status({});
      node.receive(message);
      for (let ms = 0; told.length <= i && ms < 60_000; ms += 5) await pause(5);
      await pause(1);
      expect(told.length, context).toBe(i + 1);
      const problem = told[i] as AnyMessage | undefined;
      if (problem) {
        tally.refused++;
        expect(problem.code, `${context}: ${problem.stack}`).toEqual(expect.any(String));
        expect(problem.message, context).not.toMatch(/undefined|\[object/);
      } else {
        tally.sent++;
        const sent = seen.sent.slice(sentBefore);
        expect(sent.length > 0 || lastStatus().text, `${context}: nothing sent, nothing said`).toBeTruthy();
        for (const { payload, findings = {} } of sent) {
          expect(() => [payload].flat().map((one, k) => checkMeasurement(one, `payload[${k}]`)), context).not.toThrow();
          // what the node neither read nor made it passes on
          const made = Object.keys(findings).filter((key) => findings[key] !== message.findings?.[key]);
          expect(() => checkFindings(findings, made as (keyof Findings)[]), context).not.toThrow();
        }
      }
    }

    if (process.env.BASSLOOM_ODD) console.log(name, tally);
  },
);
