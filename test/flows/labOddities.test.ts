import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Caveat } from '../../lib/model/caveat';
import { until } from '../nodes/bench';
import { root } from './script';
import { useLab } from './useLab';

const session = join(root, 'flows/demo/session');
/** What is waited for comes within seconds; a busy machine may take long. */
const PATIENCE_S = 120;
const lab = useLab();
const { problems, inbox, outbox } = lab;

const start = (env: Record<string, string> = {}) => lab.start('node-red', env);
const text = (rung: number) => readFileSync(join(session, `Marrowby-12_shelf-flat_step-0${rung}.txt`), 'utf8');
const put = (name: string, content: string | Buffer) => writeFileSync(inbox(name), content);
/** A table of a response with as many points as are wanted. */
const table = (levelAt: (hz: number) => number, lowHz = 10, points = 200, step = 1 / 24) =>
  Array.from({ length: points }, (_, i) => lowHz * 2 ** (i * step))
    .map((hz) => `${hz.toFixed(4)}\t${levelAt(hz).toFixed(3)}\n`)
    .join('');
const found = (unit: string) => {
  try {
    return JSON.parse(readFileSync(outbox(unit, 'findings.json'), 'utf8'));
  } catch {
    return {};
  }
};
const rungs = (unit: string): number | undefined => found(unit).ladder?.[0]?.rungs.length;
const wanted = (isSo: () => boolean) =>
  until(isSo, PATIENCE_S).catch(() => {
    throw new Error(`waited in vain:\n${lab.running()?.log()}`);
  });
const codes = (unit: string): string[] => (found(unit).notes ?? []).map(({ code }: Caveat) => code);

describe('the lab, given odd files', () => {
  it('reports every unit that holds a measurement, and names what it left out', async () => {
    const odd: Record<string, string> = {
      'Copied_flat_step-2 (1).txt': text(2),
      'Cut_flat_step-4.txt': text(4).split('\n').slice(0, 12).join('\n'),
      'Cut_flat_step-5.txt': table(() => 90, 10, 2),
      'Elsewhere_flat_step-4.txt': table(() => 90, 1000),
      'Scaled_flat_step-4.txt': `Hz\tdB SPL\n${table((hz) => 90 - 240 / hz)}`,
      'Level_flat_step-4.txt': table(() => 90),
      'Twice_flat_step-03.txt': text(3),
      'Twice_flat_step-3.0.txt': text(4),
      'Text_flat_step-4.txt': 'this is no measurement\n',
    };
    const units = [...new Set(Object.keys(odd).map((name) => name.split('_')[0]))];
    for (const unit of units) for (const rung of [1, 2, 3]) put(`${unit}_flat_step-${rung}.txt`, text(rung));
    for (const [name, content] of Object.entries(odd)) put(name, content);
    // a unit as flat as a ruler: nothing of a roll-off to be seen
    for (const rung of [1, 2, 3])
      put(
        `Ruler_flat_step-${rung}.txt`,
        table(() => 80 + 3 * rung),
      );
    put('noise.txt', readFileSync(join(session, 'noise.txt')));
    await start();
    await wanted(() => [...units, 'Ruler'].every((unit) => rungs(unit) !== undefined));
    for (const unit of units) {
      expect([unit, (rungs(unit) ?? 0) >= 3]).toEqual([unit, true]);
      expect(existsSync(outbox(unit, 'report.html'))).toBe(true);
    }
    for (const unit of ['Cut', 'Elsewhere'])
      expect([unit, codes(unit)]).toEqual([unit, expect.arrayContaining(['run-set-aside'])]);
    expect(codes('Text')).toContain('file-refused');
    expect(codes('Ruler')).toContain('analysis-missing');
    expect(readFileSync(outbox('Ruler', 'report.html'), 'utf8')).toContain('Roll-off is missing from this report');
    const twice = found('Twice').notes.filter(({ code }: Caveat) => code === 'same-run-twice');
    expect(twice.map(({ values }: Caveat) => [values.used, values.other].sort())).toEqual(
      expect.arrayContaining([expect.arrayContaining(['Twice_flat_step-3.0.txt'])]),
    );
    expect(rungs('Twice')).toBe(3);
    const log = problems();
    for (const part of ['Text_flat_step-4.txt', 'Twice_flat_step-3.0.txt', 'Cut_flat_step-5', 'Ruler']) {
      expect(log.filter((line) => line.includes(part)).length).toBeGreaterThan(0);
    }
  });

  it.skipIf(process.platform === 'win32')(
    'opens nothing that is no file, and reads nothing that is too large or binary',
    async () => {
      for (const rung of [1, 2]) put(`Unit_flat_step-${rung}.txt`, text(rung));
      writeFileSync(
        join(lab.folder(), 'secret.txt'),
        table(() => 80),
      );
      symlinkSync(join(lab.folder(), 'secret.txt'), inbox('Unit_flat_step-3.txt'));
      symlinkSync(inbox('Unit_flat_step-2.txt'), inbox('Linked_flat_step-2.txt'));
      symlinkSync('/dev/zero', inbox('Unit_flat_step-4.txt'));
      execFileSync('mkfifo', [inbox('Unit_flat_step-5.txt')]);
      put('Unit_flat_step-6.txt', 'x');
      truncateSync(inbox('Unit_flat_step-6.txt'), 140e6);
      put('Unit_flat_step-7.flac', Buffer.from(Array.from({ length: 70000 }, (_, i) => (i * 2654435761) >>> 24)));
      put('Unit_flat_step-8.txt', 'a'.repeat(3e6));
      await start();
      await wanted(() => problems().length >= 6 && rungs('Unit') === 2);
      const naming = (name: string) => problems().filter((line) => line.includes(name));
      for (const [name, says] of [
        ['Unit_flat_step-3.txt', 'leads out'],
        ['Unit_flat_step-4.txt', /device|leads out/],
        ['Unit_flat_step-5.txt', 'a pipe'],
        ['Unit_flat_step-6.txt', '133.5 MB'],
        ['Unit_flat_step-7.flac', 'neither text nor'],
        ['Unit_flat_step-8.txt', 'no line end'],
      ] as const) {
        expect(naming(name)).toEqual([expect.stringMatching(says)]);
      }
      await wanted(() => codes('Unit').filter((code) => code === 'file-refused').length === 6);
      await wanted(() => existsSync(outbox('Linked', 'report.html')));
    },
  );
});

describe('the lab, while files go', () => {
  it('lets go of them, of a renamed one, and of those of a folder that is moved and made anew', async () => {
    for (const rung of [1, 2, 3, 4, 5]) put(`Unit_flat_step-${rung}.txt`, text(rung));
    await start();
    await wanted(() => rungs('Unit') === 5);
    rmSync(inbox('Unit_flat_step-5.txt'));
    await wanted(() => rungs('Unit') === 4);
    renameSync(inbox('Unit_flat_step-4.txt'), inbox('Unit_flat_step-6.txt'));
    await wanted(() => found('Unit').ladder?.[0].rungs.at(-1).driveDb === 18);
    expect(rungs('Unit')).toBe(4);
    renameSync(inbox(), join(lab.folder(), 'elsewhere'));
    await lab.running()?.said('cannot be read');
    mkdirSync(inbox());
    for (const rung of [1, 2]) put(`Unit_flat_step-${rung}.txt`, text(rung));
    await lab.running()?.said('is there again');
    await wanted(() => rungs('Unit') === 2);
    put('Unit_flat_step-3.txt', text(3));
    await wanted(() => rungs('Unit') === 3);
    expect(problems().filter((line) => line.includes(inbox()))).toHaveLength(1);
  });

  it('marks a report that cannot be written anew, and writes it by itself once it can', async () => {
    for (const rung of [1, 2]) put(`Unit_flat_step-${rung}.txt`, text(rung));
    await start();
    await wanted(() => rungs('Unit') === 2);
    const page = outbox('Unit', 'report.html');
    await wanted(() => existsSync(page));
    rmSync(outbox('Unit', 'curves.csv'));
    mkdirSync(outbox('Unit', 'curves.csv', 'in the way'), { recursive: true });
    put('Unit_flat_step-3.txt', text(3));
    await wanted(() => existsSync(outbox('Unit', 'report-outdated.html')));
    await wanted(() => problems().some((line) => line.includes('Unit') && line.includes('curves.csv')));
    expect(readFileSync(page, 'utf8')).toContain('out of date');
    rmSync(outbox('Unit', 'curves.csv'), { recursive: true });
    await wanted(() => rungs('Unit') === 3 && !existsSync(outbox('Unit', 'report-outdated.html')));
    expect(readFileSync(page, 'utf8')).not.toContain('out of date');
    expect(readdirSync(outbox('Unit')).filter((name) => name.endsWith('.part'))).toEqual([]);
  });
});
