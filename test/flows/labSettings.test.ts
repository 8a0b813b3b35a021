import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { until } from '../nodes/bench';
import { root } from './script';
import { useLab } from './useLab';

const session = join(root, 'flows/demo/session');
const lab = useLab();
const put = (name: string, content: string | Buffer) => writeFileSync(lab.inbox(name), content);
const page = () => {
  const path = lab.outbox('Unit', 'report.html');
  return existsSync(path) ? readFileSync(path, 'utf8') : '';
};
const wanted = (isSo: () => boolean) =>
  until(isSo, 300).catch(() => {
    throw new Error(`waited in vain:\n${lab.running()?.log()}`);
  });

it('the lab takes settings from bassloom.json, follows its changes, and goes on where it is broken', async () => {
  for (const rung of [1, 2, 3])
    put(`Unit_flat_step-${rung}.txt`, readFileSync(join(session, `Marrowby-12_shelf-flat_step-0${rung}.txt`)));
  const room = { name: 'the long room', lengthM: 6.1, widthM: 4.2, heightM: 2.6 };
  put('bassloom.json', JSON.stringify({ title: 'First title', room, procedure: { stepDb: 2 } }));
  await lab.start('node-red');
  await wanted(() => page().includes('First title'));
  const findings = () => JSON.parse(readFileSync(lab.outbox('Unit', 'findings.json'), 'utf8'));
  expect(findings().ladder[0].rungs.map(({ driveDb }: { driveDb: number }) => driveDb)).toEqual([2, 4, 6]);
  expect(page()).toContain('the long room');
  expect(lab.problems()).toEqual([]);

  put('bassloom.json', '{"title": "Second title", "smoothing": "wide"}');
  await wanted(() => lab.problems().length > 0);
  expect(lab.problems()).toEqual([expect.stringMatching(/bassloom\.json: "smoothing".*last good version holds/)]);
  put('Unit_flat_step-4.txt', readFileSync(join(session, 'Marrowby-12_shelf-flat_step-04.txt')));
  await wanted(() => findings().ladder[0].rungs.length === 4);
  await wanted(() => page().includes('First title'));

  put('bassloom.json', '{"title": "Third title"}');
  await wanted(() => page().includes('Third title') && findings().ladder[0].rungs.at(-1).driveDb === 12);
  expect(page()).not.toContain('the long room');
  rmSync(lab.inbox('bassloom.json'));
  await wanted(() => page() !== '' && !page().includes('Third title'));
  expect(lab.problems()).toHaveLength(1);

  mkdirSync(lab.inbox('More'));
  put('More/bassloom.json', '{"title": "Fourth title"}');
  await wanted(() => lab.problems().length > 1);
  expect(lab.problems()[1]).toMatch(/More\/bassloom\.json: settings are read from .* watched folder itself only/);
});
