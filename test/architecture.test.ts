import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';

describe('the house', () => {
  it('has arrows that run one way only', () => {
    // dependency-cruiser exits non-zero and names each arrow that runs up
    const run = () =>
      execFileSync(
        process.execPath,
        ['node_modules/.bin/depcruise', 'lib', 'nodes', '--config', '.dependency-cruiser.cjs'],
        { encoding: 'utf8' },
      );
    expect(run()).toMatch(/no dependency violations found/);
  });
});
