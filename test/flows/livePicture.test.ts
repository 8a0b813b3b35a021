import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type RunningNodeRed, startNodeRed } from '../nodes/process';
import type { FlowNode } from './layout';
import { root } from './script';

const flow: FlowNode[] = JSON.parse(readFileSync(join(root, 'flows/live-picture/live-picture.json'), 'utf8'));

describe.each(['node-red', 'node-red-4'])('the live picture on %s', (version) => {
  let red: RunningNodeRed;
  beforeAll(async () => {
    red = await startNodeRed(version, flow);
  });
  afterAll(() => red?.remove());

  /** The picture when it shows what is waited for. */
  async function picture(what: RegExp): Promise<Response> {
    for (;;) {
      const answer = await fetch(`${red.url}/bassloom/live.svg`);
      if (what.test(await answer.clone().text())) return answer;
      expect(red.log()).not.toMatch(/\[(error|debug:problem)\]/);
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
  }
  const press = (button: string) =>
    fetch(`${red.url}/inject/${flow.find(({ type, name }) => type === 'inject' && name === button)?.id}`, {
      method: 'POST',
    });

  it('is served as a page that asks for it, and changes with what is pressed', async () => {
    const page = await (await fetch(`${red.url}/bassloom/live`)).text();
    expect(page).toContain("fetch('live.svg'");
    const first = await picture(/>Response of the settings</);
    expect(first.headers.get('content-type')).toMatch(/^image\/svg\+xml/);
    await press('compression');
    await picture(/>Compression with /);
    await press('switch');
    await picture(/>hinge /);
  });
});
