import { execFileSync, spawnSync } from 'node:child_process';

/** Whether sox (Debian: apt-get install sox) is there. Where tests are a gate (CI) it must be. */
export const hasSox = spawnSync('sox', ['--version']).status === 0;

if (!hasSox) {
  const what = 'sox is missing (Debian: apt-get install sox): WAV files are not checked against it';
  if (process.env.CI) throw new Error(what);
  console.warn(what);
}

/** Run sox; what it wrote to standard output. */
export function sox(args: (string | number)[], input?: Uint8Array): Buffer {
  return execFileSync('sox', args.map(String), { input, maxBuffer: 1 << 26, stdio: 'pipe' });
}

/** The samples of a WAV file as sox reads them, one column a channel, full scale at 1. */
export function samplesBySox(path: string, channels: number): Float64Array[] {
  const raw = sox(['-D', path, '-t', 'raw', '-e', 'floating-point', '-b', 64, '-L', '-']);
  const frames = raw.length / 8 / channels;
  return Array.from({ length: channels }, (_, c) =>
    Float64Array.from({ length: frames }, (_, i) => raw.readDoubleLE((i * channels + c) * 8)),
  );
}
