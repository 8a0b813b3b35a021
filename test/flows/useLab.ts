import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach } from 'vitest';
import { type RunningScript, runScript } from './script';

/** A lab with an inbox and an outbox of its own for each test of a file, ended with the test. */
export function useLab() {
  let running: RunningScript | undefined;
  let folder = '';
  const at = (...parts: string[]) => join(folder, ...parts);
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'bassloom-lab-'));
    mkdirSync(at('inbox'));
  });
  afterEach(async () => {
    await running?.stop();
    rmSync(folder, { recursive: true, force: true });
  });
  const run = async (nodeRed: string, env: Record<string, string> = {}): Promise<RunningScript> => {
    const folders = { BASSLOOM_INBOX: at('inbox'), BASSLOOM_OUTBOX: at('outbox') };
    running = await runScript('lab', nodeRed, { ...folders, ...env });
    return running;
  };
  return {
    /** The folder that both lie in. */
    folder: () => folder,
    inbox: (...parts: string[]) => at('inbox', ...parts),
    outbox: (...parts: string[]) => at('outbox', ...parts),
    run,
    async start(nodeRed: string, env: Record<string, string> = {}): Promise<RunningScript> {
      const started = await run(nodeRed, env);
      await started.said('Started flows');
      return started;
    },
    running: () => running,
    /** The lines of its log of problems. */
    problems: (): string[] => {
      const log = at('outbox', 'problems.log');
      // what is only being written has no line end yet
      return existsSync(log) ? readFileSync(log, 'utf8').split('\n').slice(0, -1) : [];
    },
  };
}
