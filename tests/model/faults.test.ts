import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { faultCodes } from '../../shared/model/faults.ts';

const tests = join(import.meta.dirname, '..');

it('every fault is named by its code in a test', () => {
  const files = globSync('**/*.{test,spec}.ts', { cwd: tests }).filter(
    (file) => file !== join('model', 'faults.test.ts'),
  );
  expect(files.length).toBeGreaterThan(100);
  const sources = files.map((file) => readFileSync(join(tests, file), 'utf8')).join('\n');
  const named = new Set(Array.from(sources.matchAll(/'([a-z]+(?:-[a-z]+)*)'/gu), ([, word]) => word));
  expect(faultCodes.filter((code) => !named.has(code))).toEqual([]);
});
