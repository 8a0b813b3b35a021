import { createRequire } from 'node:module';
import { expect, test } from 'vitest';
import { type AnyMessage, pause, response, until, useNodeRed } from './bench';

const require = createRequire(import.meta.url);
const { define } = require('../../dist/nodes/define.js');
const { defineConfig } = require('../../dist/nodes/defineConfig.js');
const { procedure, procedureFields } = require('../../dist/nodes/configs.js');
const { choice, flag, number, numbers } = require('../../dist/nodes/fields.js');
const { BassloomError: Refusal } = require('../../dist/lib');

const { deploy } = useNodeRed();
const curve = response(() => 80, { device: 'a' });

const settings = {
  procedure,
  heightDb: number({ above: 0, max: 60, otherwise: 5, procedure: 'windowHeightDb' }),
  atHz: numbers({ max: 1000, otherwise: [20] }),
  kind: choice(['one', 'two'], { otherwise: 'one' }),
  tick: flag(true),
  rangeLowHz: number({ above: 0 }),
  rangeHighHz: number({ above: 0 }),
};
const remark = (code: string) => ({ code, severity: 'remark', values: {}, message: code });
/** A node that hands back its settings. */
const echo = define({
  type: 'echo',
  settings,
  run: ({ settings: settled, measurements }: AnyMessage) => {
    measurements();
    return { findings: { notes: [remark('seen')] }, set: { settled }, status: 'ok' };
  },
});
const procedureNode = defineConfig('bassloom-procedure', procedureFields, (values: unknown) => values);
const settle = async (config: AnyMessage, message: AnyMessage) => {
  const { give } = await deploy([echo], { type: 'echo', ...config });
  const { sent, caught } = await give({ payload: [curve], ...message });
  return sent[0]?.settled ?? caught[0];
};

test('a setting of the dialog goes before the message, the message before the default', async () => {
  expect(await settle({ heightDb: '6' }, { heightDb: 7 })).toMatchObject({ heightDb: 6 });
  expect(await settle({ heightDb: '' }, { heightDb: 7 })).toMatchObject({ heightDb: 7 });
  expect(await settle({}, { heightDb: '7,5' })).toMatchObject({ heightDb: 7.5 });
  expect(await settle({ heightDb: ' ' }, {})).toMatchObject({ heightDb: 5, atHz: [20], kind: 'one', tick: true });
});

test('an environment variable that is not set counts as blank', async () => {
  process.env.BASSLOOM_TEST_HEIGHT = '8';
  // biome-ignore lint/suspicious/noTemplateCurlyInString: that is how Node-RED writes environment variables
  expect(await settle({ heightDb: '${BASSLOOM_TEST_HEIGHT}' }, {})).toMatchObject({ heightDb: 8 });
  // biome-ignore lint/suspicious/noTemplateCurlyInString: the same
  expect(await settle({ heightDb: '${BASSLOOM_TEST_NOTHING}' }, {})).toMatchObject({ heightDb: 5 });
});

test('a procedure fills what dialog and message leave blank, be it a node or part of the message', async () => {
  const { give } = await deploy([echo, procedureNode], { type: 'echo', procedure: 'p' }, [
    { id: 'p', type: 'bassloom-procedure', name: 'fixed', windowHeightDb: '4' },
  ]);
  expect((await give({ payload: [curve] })).sent[0].settled).toMatchObject({ heightDb: 4 });
  expect((await give({ payload: [curve], heightDb: 3 })).sent[0].settled).toMatchObject({ heightDb: 3 });
});

test('a procedure in the message needs no procedure node', async () => {
  expect(await settle({}, { procedure: { windowHeightDb: 3 } })).toMatchObject({ heightDb: 3 });
});

test('a procedure node that is missing is named', async () => {
  const { error } = await settle({ procedure: 'nowhere' }, {});
  expect(error).toMatchObject({ code: 'bad-setting', cause: { field: 'procedure' } });
});

test('numbers come as text or as an array', async () => {
  expect(await settle({ atHz: '10, 31.5;40  63' }, {})).toMatchObject({ atHz: [10, 31.5, 40, 63] });
  expect(await settle({}, { atHz: [12] })).toMatchObject({ atHz: [12] });
  expect((await settle({}, { atHz: [0] })).error.code).toBe('bad-setting');
});

test.each([
  ['1,5; 3', [1.5, 3]],
  ['1,5; 3,25 4', [1.5, 3.25, 4]],
  ['10, 20, 31.5', [10, 20, 31.5]],
  ['10,20,40', [10, 20, 40]],
  ['1.5', [1.5]],
])('a list of numbers %j is read as it is meant', async (text, read) => {
  expect(await settle({ atHz: text }, {})).toMatchObject({ atHz: read });
});

test.each(['1,5', '1,5 3', '1,5, 3', '10, 31,5; 40'])('a list of numbers %j may mean two things', async (text) => {
  const { error } = await settle({}, { atHz: text });
  expect(error).toMatchObject({ code: 'bad-setting', cause: { field: 'atHz' } });
  expect(error.message).toContain('which commas are decimal');
});

test('dialogs have the limits of the runtime, each number of every node', () => {
  const { nodes } = require('../../package.json')['node-red'];
  const { declared } = require('../../dist/nodes/define.js');
  const { readFileSync } = require('node:fs');
  for (const [type, file] of Object.entries<string>(nodes)) {
    require(`../../${file}`);
    const name = type.replace('bassloom-', '');
    const html: string = readFileSync(require.resolve(`../../${file}`).replace(/js$/, 'html'), 'utf8');
    const asked = [...html.matchAll(/(\w+): \{ value: [^\n]*bassloom\.limits\('([\w-]+)', '(\w+)'/g)];
    expect(asked.map(([, field, of, limited]) => [field, of, limited])).toEqual(
      asked.map(([, field]) => [field, name, field]),
    );
    const limited = Object.entries<AnyMessage>(declared.get(type)).filter(([, field]) => field.limits);
    expect(asked.map(([, field]) => field).sort(), name).toEqual(limited.map(([field]) => field).sort());
  }
});

test.each([
  ['heightDb', 'tall'],
  ['heightDb', -1],
  ['heightDb', Number.POSITIVE_INFINITY],
  ['kind', 'three'],
  ['tick', 'perhaps'],
  ['atHz', 'ten'],
])('a message with a bad %s (%s) reaches Catch, the setting named', async (field, value) => {
  const { error } = await settle({}, { [field]: value });
  expect(error).toMatchObject({ code: 'bad-setting', cause: { code: 'bad-setting', field } });
  expect(error.message).toContain(`msg.${field}`);
});

test('a range needs both ends, the lower one first', async () => {
  expect(await settle({ rangeLowHz: 20 }, { rangeHighHz: 100 })).toMatchObject({ rangeLowHz: 20, rangeHighHz: 100 });
  expect((await settle({ rangeLowHz: 20 }, {})).error.cause.field).toBe('rangeHighHz');
  expect((await settle({ rangeLowHz: 20, rangeHighHz: 20 }, {})).error.code).toBe('bad-setting');
});

test('a bad setting is shown on deploy, before any message', async () => {
  const { lastStatus, errors } = await deploy([echo], { type: 'echo', heightDb: '-3' });
  expect(lastStatus()).toMatchObject({ fill: 'red', shape: 'ring', text: expect.stringContaining('heightDb') });
  expect(errors()).toHaveLength(1);
  expect(errors()[0]).toMatchObject({ code: 'bad-setting', field: 'heightDb' });
});

test('a bad setting of a configuration node is shown by the nodes that use it', async () => {
  const { lastStatus } = await deploy([echo, procedureNode], { type: 'echo', procedure: 'p' }, [
    { id: 'p', type: 'bassloom-procedure', name: 'fixed', windowHeightDb: 'high' },
  ]);
  expect(lastStatus()).toMatchObject({ fill: 'red', text: expect.stringContaining('windowHeightDb') });
});

test('good settings leave no status and no error on deploy', async () => {
  const { lastStatus, errors } = await deploy([echo], { type: 'echo', heightDb: '3' });
  expect(lastStatus()).toEqual({});
  expect(errors()).toEqual([]);
});

test('unknown properties and parts are passed on, findings grow, and what came in is not changed', async () => {
  const { give } = await deploy([echo], { type: 'echo' });
  const message = {
    payload: [curve],
    other: { deep: [1] },
    parts: { id: 'x', index: 0 },
    findings: { notes: [remark('old')] },
  };
  const { sent, caught, completed } = await give(message);
  expect(caught).toEqual([]);
  expect(completed).toHaveLength(1);
  expect(sent).toHaveLength(1);
  expect(sent[0]).toMatchObject({ other: { deep: [1] }, parts: { id: 'x', index: 0 }, _msgid: 'test' });
  expect(sent[0].findings.notes).toEqual([remark('old'), remark('seen')]);
  expect(message.findings.notes).toEqual([remark('old')]);
});

test.each([
  ['nothing', undefined],
  ['a number', 3],
  ['text', 'abc'],
  ['an empty array', []],
  ['an array of anything', [{ frequencyHz: [1], levelDb: [2] }]],
  ['a curve among others that are none', [curve, null]],
])('a payload of %s is refused once', async (_what, payload) => {
  const { give, lastStatus } = await deploy([echo], { type: 'echo' });
  const { sent, caught, completed } = await give({ payload, keep: 1 });
  expect(sent).toEqual([]);
  expect(completed).toEqual([]);
  expect(caught).toHaveLength(1);
  expect(caught[0]).toMatchObject({ keep: 1, error: { code: 'not-measurements', cause: { field: 'payload' } } });
  expect(lastStatus()).toMatchObject({ fill: 'red', text: 'not measurements' });
});

test.each([
  ['green', ['remark'], {}],
  ['yellow', ['remark', 'doubt'], {}],
  ['red', ['doubt', 'warning', 'remark'], {}],
  ['yellow', ['remark'], { doubtful: true }],
  ['red', ['doubt'], { bad: true }],
])('the status is %s where a finding has caveats that are %j, %j', async (fill, severities, told) => {
  const caveats = severities.map((severity) => ({ ...remark('some'), severity }));
  for (const findings of [{ notes: caveats }, { rollOff: [{ caveats: [] }, { caveats }] }, { exposure: { caveats } }]) {
    const found = define({ type: 'found', settings: {}, run: () => ({ findings, status: 'ok', ...told }) });
    const { give, lastStatus } = await deploy([found], { type: 'found' });
    // what earlier nodes found is theirs to show
    await give({ payload: [curve], findings: { notes: [{ ...remark('before'), severity: 'warning' }] } });
    expect(lastStatus()).toMatchObject({ fill, shape: 'dot' });
  }
});

test('a single measurement counts as an array of one', async () => {
  expect(await settle({}, { payload: curve })).toMatchObject({ heightDb: 5 });
});

test('findings that are no object are refused', async () => {
  expect((await settle({}, { findings: 'some' })).error.code).toBe('not-findings');
});

test('a refusal of the library keeps its code, line and field; a failure of any kind ends in Catch', async () => {
  for (const thrown of [
    new Refusal('odd-line', 'line 3 is odd', { line: 3, field: 'level' }),
    new TypeError('oh'),
    undefined,
  ]) {
    const failing = define({
      type: 'failing',
      settings: {},
      run: () => {
        throw thrown;
      },
    });
    const { give } = await deploy([failing], { type: 'failing' });
    const { sent, caught, completed } = await give({ payload: [curve] });
    expect([sent.length, caught.length, completed.length]).toEqual([0, 1, 0]);
    if (thrown instanceof Refusal) {
      expect(caught[0].error).toMatchObject({ code: 'odd-line', cause: { code: 'odd-line', line: 3, field: 'level' } });
    }
  }
});

test('messages are worked on one after another, in the order they came', async () => {
  const order: number[] = [];
  const slow = define({
    type: 'slow',
    settings: {},
    async run({ message }: AnyMessage) {
      await pause(message.ms);
      order.push(message.ms);
      return { status: 'ok' };
    },
  });
  const { node, seen } = await deploy([slow], { type: 'slow' });
  node.receive({ payload: 1, ms: 40 });
  node.receive({ payload: 2, ms: 1 });
  await until(() => seen.sent.length === 2);
  expect(order).toEqual([40, 1]);
  expect(seen.sent.map((message) => message.payload)).toEqual([1, 2]);
});

test('a node that works on messages at once passes them on in the order they came', async () => {
  const begun: number[] = [];
  const slow = define({
    type: 'slow',
    settings: {},
    atOnce: true,
    async run({ message }: AnyMessage) {
      begun.push(message.ms);
      await pause(message.ms);
      if (message.ms === 30) throw new Refusal('thirty', 'thirty');
      return { status: 'ok' };
    },
  });
  const { node, seen, lastStatus } = await deploy([slow], { type: 'slow' });
  for (const [i, ms] of [60, 30, 1].entries()) node.receive({ payload: i, ms });
  await until(() => begun.length === 3);
  expect(begun).toEqual([60, 30, 1]);
  expect(seen.sent).toEqual([]);
  await until(() => seen.sent.length === 2 && seen.caught.length === 1);
  expect(seen.sent.map((message) => message.payload)).toEqual([0, 2]);
  expect(seen.caught.map((message) => message.error.code)).toEqual(['thirty']);
  expect(lastStatus()).toMatchObject({ fill: 'green' });
});

test('closing a node ends long work, and each message is done once', async () => {
  const told: unknown[] = [];
  let begun = 0;
  const long = define({
    type: 'long',
    settings: {},
    atOnce: true,
    run: ({ signal }: AnyMessage) => {
      begun++;
      return new Promise((_resolve, reject) => signal.addEventListener('abort', () => reject(signal.reason)));
    },
  });
  const { node, statuses, seen } = await deploy([long], { type: 'long' });
  node._complete = (_message: unknown, problem: unknown) => told.push(problem);
  for (let i = 0; i < 3; i++) node.receive({ payload: i });
  await until(() => begun === 3);
  expect(told).toEqual([]);
  await node.close(false);
  expect(told).toHaveLength(3);
  for (const problem of told) expect(problem).toMatchObject({ code: 'stopped', cause: { code: 'stopped' } });
  expect(seen.sent).toEqual([]);
  expect(statuses().filter(({ fill }) => fill === 'red')).toEqual([]);
});

test('nodes that are only registered load neither the library nor its dependencies', () => {
  const { execFileSync } = require('node:child_process');
  const { nodes } = require('../../package.json')['node-red'];
  const files = Object.values(nodes).map((file) => require.resolve(`../../${file}`));
  const script = `const RED = {
      nodes: { registerType() {} }, httpAdmin: { get() {} }, auth: { needsPermission() {} },
    };
    for (const file of ${JSON.stringify(files)}) require(file)(RED);
    console.log(JSON.stringify(Object.keys(require.cache)))`;
  const loaded: string[] = JSON.parse(execFileSync(process.execPath, ['-e', script], { encoding: 'utf8' }));
  const rest = loaded.filter((file) => !/dist\/nodes\//.test(file)).map((file) => file.replace(/.*\/dist\//, ''));
  // a few lines each, which load nothing else
  const model = ['caveat', 'errors', 'octaves', 'refusals', 'step'].map((name) => `model/${name}`);
  const names = ['filePath', 'isCalibratorName', 'isNoiseName'].map((name) => `import/${name}`);
  const leaves = [...model, ...names, 'response/captureWarnings'].map((name) => `lib/${name}.js`);
  const isWords = (file: string) => file.startsWith('lib/words/');
  expect(rest.filter((file) => !leaves.includes(file) && !isWords(file))).toEqual([]);
});
