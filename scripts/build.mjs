// Compile to CommonJS in dist/, then put beside each node what its editor needs.
import { execFileSync } from 'node:child_process';
import { cpSync, globSync, mkdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
process.chdir(root);
rmSync('dist', { recursive: true, force: true });
execFileSync(process.execPath, ['node_modules/typescript/bin/tsc', '-p', 'tsconfig.json'], { stdio: 'inherit' });
for (const file of globSync('nodes/**/*.{html,json,js,svg}')) {
  const to = join('dist', file);
  mkdirSync(dirname(to), { recursive: true });
  cpSync(file, to);
}
