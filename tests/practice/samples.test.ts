import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '..', '..');

it('sample-captures are what the practice bench makes, byte for byte', () => {
  const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-samples-'));
  execFileSync(process.execPath, [join(root, 'build', 'make-samples.ts'), folder]);
  const made = readdirSync(folder).sort();
  const kept = readdirSync(join(root, 'sample-captures'))
    .filter((file) => file !== 'README.md')
    .sort();
  expect(kept).toEqual(made);
  for (const file of made)
    expect(
      readFileSync(join(root, 'sample-captures', file), 'utf8') === readFileSync(join(folder, file), 'utf8'),
      file,
    ).toBe(true);
  rmSync(folder, { recursive: true });
});
