import { expect, test } from 'vitest';
import { butterworth, nodeFile, response, useNodeRed } from './bench';

const { deploy } = useNodeRed();
const files = [nodeFile('chart'), nodeFile('band-fit')];
const type = 'bassloom-chart';
const curve = response((hz) => 85 + butterworth(hz, 25), { device: 'Unit A', setting: 'flat', driveDb: 0 });

test('curves become an SVG under the name of their unit, findings and the rest go on', async () => {
  const { give, lastStatus } = await deploy(files, { type, title: 'Before' });
  const { sent, completed } = await give({ payload: [curve], other: 1, findings: {} });
  expect(completed).toHaveLength(1);
  expect(sent[0]).toMatchObject({
    filename: 'Unit A.svg',
    headers: { 'content-type': 'image/svg+xml' },
    other: 1,
    findings: {},
  });
  expect(sent[0].payload).toMatch(/^<svg [^>]*width="900" height="520"[\s\S]*>Before<\/text>[\s\S]*<\/svg>\n$/);
  expect(lastStatus()).toMatchObject({ fill: 'green', text: expect.stringMatching(/drawn|SVG 900 × 520/) });
});

test('a finding becomes a PNG of the size that the message asks for', async () => {
  const { give: judge } = await deploy(files, { type: 'bassloom-band-fit' });
  const [{ findings }] = (await judge({ payload: [curve] })).sent;
  const { give } = await deploy(files, { type, kind: 'bandFit', format: 'png' });
  const [{ payload, filename }] = (
    await give({ payload: [curve], findings, widthPx: 640, heightPx: 400, topic: 'A/B' })
  ).sent;
  expect(Buffer.isBuffer(payload)).toBe(true);
  expect([payload.readUInt32BE(16), payload.readUInt32BE(20)]).toEqual([640, 400]);
  expect(filename).toMatch(/^A-B-\w+\.png$/);
});

test('curves alone can be asked for, whatever was found', async () => {
  const { give: judge } = await deploy(files, { type: 'bassloom-band-fit' });
  const [{ findings }] = (await judge({ payload: [curve] })).sent;
  const { give } = await deploy(files, { type, kind: 'curves' });
  const [{ payload }] = (await give({ payload: [curve], findings })).sent;
  expect(payload).not.toContain('range within');
});

test('a page holds the picture and nothing that runs, whatever the names are', async () => {
  const evil = '<script>alert(1)</script>';
  const named = { ...curve, about: { ...curve.about, device: evil }, label: evil };
  const { give } = await deploy(files, { type, format: 'html', theme: 'dark', credit: evil });
  const [{ payload, headers }] = (await give({ payload: [named] })).sent;
  expect(payload).toMatch(/^<!doctype html>[\s\S]*default-src 'none'[\s\S]*background:#15181c[\s\S]*<svg /);
  expect(payload).not.toContain('<script');
  expect(headers).toEqual({ 'content-type': 'text/html; charset=utf-8' });
});

test('what cannot be drawn, and settings that are none, are refused once', async () => {
  const { give, lastStatus } = await deploy(files, { type, kind: 'ladder' });
  const { sent, caught } = await give({ payload: [curve] });
  expect([sent.length, caught.length]).toEqual([0, 1]);
  expect(caught[0].error).toMatchObject({ code: 'nothing-to-draw' });
  expect(lastStatus()).toMatchObject({ fill: 'red', text: 'nothing to draw' });
  for (const [field, value] of Object.entries({ widthPx: 12, format: 'jpg', theme: 'pink', kind: 'all' })) {
    const { give } = await deploy(files, { type });
    const refused = await give({ payload: [curve], [field]: value });
    expect(refused.caught[0].error).toMatchObject({ code: 'bad-setting', cause: { field } });
  }
});
