import { expect, test } from 'vitest';
import { buildLadder, compareSettings, fitBand, fitRollOff, roomModes, weightCurve } from '../../lib';
import type { Curve } from '../../lib/model/curve';
import type { RoomFeature } from '../../lib/model/findings';
import { butterworth, nodeFile, response, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const type = (name: string) => `bassloom-${name}`;

/** A response with a dip in it, at some drive, quiet enough to be trusted. */
const unit = (setting: string, driveDb: number, more: (hz: number) => number = () => 0): Curve => {
  const levelAt = (hz: number) => 85 + driveDb + butterworth(hz, 25) + more(hz);
  return response(levelAt, { device: 'a', setting, driveDb }, { noiseDb: new Array(121).fill(20) });
};
const dip = (hz: number) => -9 * Math.exp(-(((Math.log2(hz / 50) * 12) / 1) ** 2));
const feature = (
  confidence: number,
  kind: 'dip' | 'peak' = 'dip',
  belongsTo: RoomFeature['belongsTo'] = 'room',
): RoomFeature => ({
  frequencyHz: 50,
  kind,
  prominenceDb: 9,
  depthDb: 8,
  widthOctaves: 0.1,
  maskHz: [43, 58],
  cause: { type: 'interference' },
  belongsTo,
  confidence,
  seenIn: 1,
  of: 1,
  caveats: [],
});

test('a band fit is what the library finds, and leaves the measurements alone', async () => {
  const { give, lastStatus } = await deploy([nodeFile('band-fit')], { type: type('band-fit') });
  const curve = unit('flat', 0);
  const { sent } = await give({ payload: [curve], other: 1, topic: 'a' });
  expect(sent[0].findings.bandFit).toEqual([fitBand(curve)]);
  expect(sent[0]).toMatchObject({ payload: [curve], other: 1, topic: 'a' });
  expect(lastStatus().text).toMatch(/Hz in 5 dB/);
});

test('the status of band fits shows the unit, not the runs that a limiter holds flat', async () => {
  const hold = (levelDb: number) => Math.min(levelDb, 88);
  const curves = [0, 3, 6, 9, 12, 15, 18].map((driveDb) => {
    const levelAt = (hz: number) => hold(80 + driveDb + butterworth(hz, 25) + dip(hz));
    return response(levelAt, { device: 'a', setting: 'flat', driveDb }, { noiseDb: new Array(121).fill(20) });
  });
  const { give, lastStatus } = await deploy([nodeFile('band-fit')], { type: type('band-fit') });
  const findings = { ladder: [buildLadder(curves)] };
  await give({ payload: curves, findings });
  const { lowHz, highHz } = fitBand(curves[0]);
  const alone = `${lowHz.toPrecision(3)}–${highHz.toPrecision(3)} Hz in 5 dB`;
  expect(fitBand(curves[6]).octaves).toBeGreaterThan(fitBand(curves[0]).octaves + 1);
  expect(lastStatus().text).toBe(alone);
});

test('the noise runs of the payload speak for the responses in it', async () => {
  const { give } = await deploy([nodeFile('band-fit')], { type: type('band-fit') });
  const { noiseDb, ...quiet } = unit('flat', 0);
  const noise: Curve = { ...response(() => 80), role: 'noise' };
  const { sent } = await give({ payload: [quiet, noise] });
  expect(sent[0].findings.bandFit[0].curve).toBe(quiet.id);
  expect(sent[0].findings.bandFit[0].caveats.map(({ code }: { code: string }) => code)).toContain('fit-in-noise');
  expect(sent[0].payload).toEqual([quiet, noise]);
});

test('settings of a band fit come from dialog, message or procedure', async () => {
  const curve = unit('flat', 0);
  const { give } = await deploy([nodeFile('band-fit')], { type: type('band-fit'), heightDb: '', rangeLowHz: '20' });
  const message = {
    rangeHighHz: 100,
    smoothing: 0,
    reference: 'maximum',
    procedure: { windowHeightDb: 3, referenceLowHz: 50, referenceHighHz: 100 },
  };
  const { sent } = await give({ payload: [curve], ...message });
  expect(sent[0].findings.bandFit).toEqual([
    fitBand(curve, {
      heightDb: 3,
      rangeHz: [20, 100],
      smoothing: null,
      reference: 'maximum',
      referenceBandHz: [50, 100],
    }),
  ]);
});

test('dips of the room are left out where they are sure enough and wanted', async () => {
  const curve = unit('flat', 0, dip);
  const masks = async (config: object, features: RoomFeature[]) => {
    const { give } = await deploy([nodeFile('band-fit')], { type: type('band-fit'), ...config });
    const { sent } = await give({ payload: [curve], findings: { roomFeatures: features } });
    return sent[0].findings.bandFit[0].masksHz;
  };
  expect(await masks({}, [feature(0.6), feature(0.9, 'peak')])).toEqual([[43, 58]]);
  expect(await masks({}, [feature(0.4)])).toEqual([]);
  expect(await masks({ minConfidence: '0.3' }, [feature(0.4)])).toEqual([[43, 58]]);
  expect(await masks({ useMasks: false }, [feature(0.9)])).toEqual([]);
  expect(await masks({}, [{ ...feature(0.1), cause: { type: 'listed' } }])).toEqual([[43, 58]]);
});

test("dips not shown to be the room's stay in a band fit and a roll-off, and a note says how many", async () => {
  const features = [feature(0.9), feature(0.9, 'dip', 'unknown'), feature(0.9, 'dip', 'unit'), feature(0.9, 'peak')];
  for (const [name, kind] of [
    ['band-fit', 'bandFit'],
    ['roll-off', 'rollOff'],
  ]) {
    const { give, lastStatus } = await deploy([nodeFile(name)], { type: type(name) });
    const message = { payload: [unit('flat', 0, dip)], findings: { roomFeatures: features } };
    const [{ findings }] = (await give(message)).sent;
    expect(findings[kind]).toHaveLength(1);
    expect(findings.notes).toEqual([
      expect.objectContaining({
        code: 'dips-not-masked',
        severity: 'remark',
        values: { masked: 1, unknown: 1, unit: 1 },
      }),
    ]);
    expect(lastStatus().fill).toBe('green');
  }
});

test('a weighted curve is refused by band fit and roll-off unless they are told to take it', async () => {
  const payload = [weightCurve(unit('flat', 0), 'A')];
  for (const name of ['band-fit', 'roll-off']) {
    const { give } = await deploy([nodeFile(name)], { type: type(name) });
    expect((await give({ payload })).caught[0].error.code).toBe('weighted-curve');
    const told = await deploy([nodeFile(name)], { type: type(name), allowWeighted: true });
    expect((await told.give({ payload })).sent).toHaveLength(1);
  }
});

test('of each setting the reference run is judged, or every run', async () => {
  const payload = [unit('flat', 0), unit('flat', 3), unit('deep', 0), unit('deep', 3)];
  const judged = async (curves: string) => {
    const { give } = await deploy([nodeFile('band-fit')], { type: type('band-fit'), curves });
    return (await give({ payload })).sent[0].findings.bandFit.map((fit: { label: string }) => fit.label);
  };
  expect(await judged('')).toEqual(['a flat 0', 'a deep 0']);
  expect(await judged('every')).toHaveLength(4);
});

test('a second fit of the same height takes the place of the first, another height stands beside it', async () => {
  const { give } = await deploy([nodeFile('band-fit')], { type: type('band-fit') });
  const first = (await give({ payload: [unit('flat', 0)] })).sent[0];
  const second = (await give({ ...first, heightDb: 5 })).sent[0];
  const third = (await give({ ...second, heightDb: 10 })).sent[0];
  expect(second.findings.bandFit).toHaveLength(1);
  expect(third.findings.bandFit.map((fit: { heightDb: number }) => fit.heightDb)).toEqual([5, 10]);
});

test('a roll-off is what the library finds', async () => {
  const { give, lastStatus } = await deploy([nodeFile('roll-off')], { type: type('roll-off'), rangeLowHz: '10' });
  const curve = unit('flat', 0);
  const { sent } = await give({ payload: [curve], rangeHighHz: 100 });
  expect(sent[0].findings.rollOff).toEqual([fitRollOff(curve, { rangeHz: [10, 100], masksHz: [] })]);
  // The curve is a Butterworth high-pass of second order at 25 Hz.
  expect(sent[0].findings.rollOff[0].f0Hz).toBeCloseTo(25, 0);
  expect(lastStatus().text).toMatch(/^25/);
});

const limited = (driveDb: number) => unit('flat', driveDb, (hz) => (hz < 30 ? Math.min(0, 6 - driveDb) : 0));
const rungs = [0, 3, 6, 9, 12].map(limited);

test('a ladder is built for each unit and setting, with the noise runs that are of it or of none', async () => {
  const { give, lastStatus } = await deploy([nodeFile('compression-ladder')], { type: type('compression-ladder') });
  const noise = response(() => 20, {}, { role: 'noise', label: 'noise' });
  const foreign = response(() => 90, { device: 'b' }, { role: 'noise', label: 'noise of b' });
  const deep = [0, 3, 6].map((driveDb) => unit('deep', driveDb));
  const { sent } = await give({ payload: [...rungs, noise, foreign, ...deep] });
  expect(sent[0].findings.ladder).toEqual([
    buildLadder([...rungs, noise], { step: 'commanded', onsetsDb: [1, 3] }),
    buildLadder([...deep, noise], { step: 'commanded', onsetsDb: [1, 3] }),
  ]);
  expect(lastStatus().text).toMatch(/ladders|rungs/);
});

test('onsets and step of a ladder come from dialog or message', async () => {
  const { give } = await deploy([nodeFile('compression-ladder')], {
    type: type('compression-ladder'),
    onsetsDb: '2; 4',
  });
  const { sent } = await give({ payload: rungs, step: 'measured' });
  expect(sent[0].findings.ladder).toEqual([buildLadder(rungs, { step: 'measured', onsetsDb: [2, 4] })]);
});

test('runs that make no ladder pass, and it is said', async () => {
  const { give, lastStatus } = await deploy([nodeFile('compression-ladder')], { type: type('compression-ladder') });
  const { sent, caught } = await give({ payload: [unit('flat', 0)] });
  expect(caught).toEqual([]);
  expect(sent[0].findings).toEqual({
    ladder: [],
    notes: [expect.objectContaining({ severity: expect.any(String) })],
  });
  expect(lastStatus()).toMatchObject({ fill: 'yellow' });
});

test('the difference of two settings is taken at one drive', async () => {
  const shelf = (hz: number) => 6 / (1 + (hz / 30) ** 4);
  const payload = [unit('flat', 0), unit('flat', 3), unit('deep', 3, shelf), unit('deep', 6, shelf)];
  const { give, lastStatus } = await deploy([nodeFile('setting-difference')], { type: type('setting-difference') });
  const { sent } = await give({ payload });
  const ladders = [payload.slice(0, 2), payload.slice(2)].map((runs) => buildLadder(runs));
  const options = { masksHz: [], ladders };
  expect(sent[0].findings.settingDifference).toEqual([compareSettings(payload[1], payload[2], options)]);
  const turned = (await give({ payload, settingA: 'deep', settingB: 'flat', atHz: [12] })).sent[0];
  expect(turned.findings.settingDifference).toEqual([
    compareSettings(payload[2], payload[1], { ...options, atHz: [12] }),
  ]);
  expect(lastStatus().text).toMatch(/Hz/);
  expect((await give({ payload, settingB: 'flat' })).sent[0].findings.settingDifference[0].a).toContain('deep');
});

test('a setting that is not there is refused; a unit with one setting passes, and it is said', async () => {
  const { give } = await deploy([nodeFile('setting-difference')], { type: type('setting-difference') });
  const both = [unit('flat', 0), unit('deep', 0)];
  const { caught, completed } = await give({ payload: both, settingA: 'loud' });
  expect([caught.length, completed.length]).toEqual([1, 0]);
  expect(caught[0].error).toMatchObject({ code: 'no-such-setting', cause: { field: 'settingA' } });
  const { sent } = await give({ payload: [unit('flat', 0)] });
  expect(sent[0].findings.notes).toMatchObject([{ code: 'setting-only-one', values: { device: 'a' } }]);
  const moved = { ...unit('deep', 0), about: { device: 'a', setting: 'deep', driveDb: 0, position: 'left' } };
  const apart = await give({ payload: [unit('flat', 0), moved] });
  expect(apart.sent[0].findings.notes).toMatchObject([{ code: 'setting-no-common-position' }]);
});

const room = { lengthM: 6, widthM: 4.5, heightM: 2.5, source: [0.5, 1, 0.3], microphone: [4, 2.5, 1.1], decayS: 0.4 };
const roomNode = {
  ...{ id: 'r', type: 'bassloom-room', name: 'big', lengthM: '6', widthM: '4.5', heightM: '2.5', decayS: '0.4' },
  ...{ sourceXM: '0.5', sourceYM: '1', sourceZM: '0.3', microphoneXM: '4', microphoneYM: '2.5', microphoneZM: '1.1' },
};

test('dips are found, and the room predicts what is between unit and microphone', async () => {
  const { give, lastStatus } = await deploy(
    [nodeFile('mode-annotation'), nodeFile('room')],
    { type: type('mode-annotation'), room: 'r' },
    [roomNode],
  );
  const { sent } = await give({ payload: [unit('flat', 0, dip)], listedHz: '50' });
  const { roomFeatures, roomPrediction } = sent[0].findings;
  expect(roomFeatures.some((one: RoomFeature) => Math.abs(one.frequencyHz - 50) < 1)).toBe(true);
  expect(roomPrediction).toMatchObject({ room: 'big' });
  // 2000 sqrt(T / V), Schroeder.
  expect(roomPrediction.schroederHz).toBeCloseTo(2000 * Math.sqrt(0.4 / 67.5), 6);
  expect(sent[0].room).toMatchObject({ lengthM: 6, source: [0.5, 1, 0.3] });
  expect(lastStatus().text).toContain('dip');
});

test('a room can come with the message, its temperature from the procedure', async () => {
  const { give } = await deploy([nodeFile('mode-annotation')], { type: type('mode-annotation') });
  const { sent } = await give({ payload: [unit('flat', 0)], room, procedure: { temperatureC: 30 } });
  expect(sent[0].findings.roomPrediction.frequencyHz.length).toBeGreaterThan(100);
  expect(sent[0].room.temperatureC).toBe(30);
  expect(roomModes(sent[0].room, { toHz: 40 })[0].frequencyHz).toBeGreaterThan(29);
});

test('without a room features are found, and nothing is predicted', async () => {
  const { give } = await deploy([nodeFile('mode-annotation')], { type: type('mode-annotation') });
  const { sent } = await give({ payload: [unit('flat', 0, dip)] });
  expect(sent[0].findings.roomFeatures.length).toBeGreaterThan(0);
  expect(sent[0].findings).not.toHaveProperty('roomPrediction');
});

test('the masks of a mode annotation reach a band fit behind it', async () => {
  const annotate = await deploy([nodeFile('mode-annotation')], { type: type('mode-annotation'), listedHz: '50' });
  const [annotated] = (await annotate.give({ payload: [unit('flat', 0, dip), unit('deep', 0, dip)] })).sent;
  const fit = await deploy([nodeFile('band-fit')], { type: type('band-fit') });
  const [{ findings }] = (await fit.give(annotated)).sent;
  const [found] = findings.bandFit;
  expect(found.masksHz[0][0]).toBeLessThan(50);
  expect(found.masksHz[0][1]).toBeGreaterThan(50);
  expect(found.octaves).toBeGreaterThan(found.withoutMasks.octaves + 1);
});

test.each([
  [{ lengthM: '0' }, 'lengthM'],
  [{ heightM: '' }, 'heightM'],
  [{ sourceYM: '' }, 'sourceYM'],
  [{ microphoneXM: '7' }, 'position outside'],
])('a room with %s is refused on deploy', async (change, shown) => {
  const { lastStatus, errors } = await deploy(
    [nodeFile('mode-annotation'), nodeFile('room')],
    { type: type('mode-annotation'), room: 'r' },
    [{ ...roomNode, ...change }],
  );
  expect(lastStatus()).toMatchObject({ fill: 'red', text: expect.stringContaining(shown) });
  expect(errors().length).toBeGreaterThan(0);
});

test.each(['band-fit', 'roll-off', 'compression-ladder', 'mode-annotation', 'setting-difference'])(
  '%s refuses noise runs alone, and what is no measurement, once',
  async (name) => {
    const { give } = await deploy([nodeFile(name)], { type: type(name) });
    const noise = response(() => 20, {}, { role: 'noise' });
    for (const [payload, code] of [
      [[noise], 'no-responses'],
      ['text', 'not-measurements'],
    ] as const) {
      const { sent, caught, completed } = await give({ payload });
      expect([sent.length, caught.length, completed.length]).toEqual([0, 1, 0]);
      expect(caught[0].error.code).toBe(code);
    }
  },
);

test.each([
  ['a level that is null', (curve: Curve) => ({ ...curve, levelDb: curve.levelDb.with(20, null as never) }), 20],
  ['one level too few', (curve: Curve) => ({ ...curve, levelDb: curve.levelDb.slice(1) }), undefined],
  ['falling frequencies', (curve: Curve) => ({ ...curve, frequencyHz: curve.frequencyHz.toReversed() }), 1],
])('no analysis judges a curve with %s; the error says which and where', async (_what, spoil, index) => {
  for (const name of ['band-fit', 'roll-off', 'compression-ladder', 'setting-difference', 'mode-annotation']) {
    const { give } = await deploy([nodeFile(name)], { type: type(name), curves: 'every' });
    const { sent, caught } = await give({ payload: [unit('flat', 0), spoil(unit('deep', 3))] });
    expect(sent).toEqual([]);
    expect(caught).toHaveLength(1);
    expect(caught[0].error.cause).toMatchObject({ measurement: 'a deep 3', field: expect.stringMatching(/Hz|Db/) });
    expect(caught[0].error.cause.index).toBe(index);
    expect(caught[0].error.message).toContain('msg.payload[1] (a deep 3)');
  }
});
