import { BassloomError } from '../lib/model/errors';

/** What the operating system says of a file, and what it means to whoever named the file. */
const KNOWN: Record<string, [code: string, say: (place: string) => string]> = {
  ENOENT: ['no-such-file', (place) => `${place} is not there. Check the path, and where a relative one starts.`],
  ENOTDIR: ['no-such-file', (place) => `${place} cannot be there: a part of its path is a file. Check the path.`],
  EEXIST: ['not-a-folder', (place) => `${place} is a file where a folder is needed. Name another folder.`],
  EISDIR: ['not-a-file', (place) => `${place} is a folder. Name a file in it.`],
  EACCES: ['no-permission', forbidden],
  EPERM: ['no-permission', forbidden],
  EROFS: ['no-permission', forbidden],
  ENOSPC: ['disk-full', full],
  EDQUOT: ['disk-full', full],
};

function full(place: string): string {
  return `There is no room left on the disk of ${place}. Make room, or name another place.`;
}

function forbidden(place: string): string {
  return `Node-RED may not read or write ${place}. Change its permissions, or name another place.`;
}

/** Put what the operating system says of a file into words and a code of our own; any other problem stays as it is. */
export function explainFileProblem(problem: unknown): unknown {
  const { code, path, syscall } = (problem ?? {}) as NodeJS.ErrnoException;
  const known = syscall === undefined || code === undefined ? undefined : KNOWN[code];
  if (!known) return problem;
  const place = path === undefined ? 'the file' : `"${path}"`;
  const said = known[1](place);
  return new BassloomError(known[0], said[0].toUpperCase() + said.slice(1), { cause: problem });
}
