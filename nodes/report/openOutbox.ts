import { type Own, withCause } from '../define';
import { explainFileProblem } from '../fileProblem';
import { fullPath } from '../paths';
import type { fields } from './fields';
import { type OutboxIndex, openIndex } from './outboxIndex';

/** The page of all units, where the node is to keep one and its dialog says where. */
export function openOutbox({ node, RED, settings }: Own<typeof fields>): OutboxIndex | undefined {
  if (!settings.index || !settings.write || !settings.folder) return undefined;
  const tell = (problem: unknown) => node.error(withCause(explainFileProblem(problem)), { filename: 'index.html' });
  const index = openIndex(fullPath(RED, settings.folder), tell);
  node.on('close', (_removed, done) => index.close().then(done, done));
  return index;
}
