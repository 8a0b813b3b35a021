import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { findingsSchema } from '../../lib/model/schemas';
import { type RunningScript, runScript } from './script';

let running: RunningScript | undefined;
afterEach(() => running?.stop());

describe.each(['node-red', 'node-red-4'])('the demo flow on %s', (nodeRed) => {
  it('analyses the bundled session by itself, writes, prints and serves the report', async () => {
    running = await runScript('start', nodeRed);
    await running.said('Report of Marrowby-12');
    await running.said('band levels can be trusted', 2);
    const url = `http://127.0.0.1:${running.port}`;
    expect(running.log()).toContain(`${url}/bassloom/report`);
    expect(running.log()).not.toMatch(/\[(error|debug:problem)\]/);

    const answer = await fetch(`${url}/bassloom/report`);
    const page = await answer.text();
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-type')).toMatch(/text\/html/);
    const folder = /folder\s+(\S+)/.exec(running.log())?.[1] as string;
    expect(readFileSync(join(folder, 'report.html'), 'utf8')).toBe(page);
    expect((await fetch(url)).status).toBe(200);

    const found = findingsSchema.parse(JSON.parse(readFileSync(join(folder, 'findings.json'), 'utf8')));
    expect(found.ladder?.map(({ setting, rungs }) => [setting, rungs.length])).toEqual([
      ['shelf-flat', 10],
      ['shelf-lifted', 10],
    ]);
    // Made with steps of 2.95 dB where 3 dB were commanded (lib/rig/demoRig.ts)
    for (const { step } of found.ladder ?? []) {
      expect(Math.abs(step.measuredDb - 2.95)).toBeLessThan(0.05);
      expect(Math.abs(step.measuredDb - 2.95)).toBeLessThan(step.uncertaintyDb);
    }
    expect(existsSync(join(dirname(folder), 'Marrowby-12/ceilings.csv'))).toBe(true);
  });
});
