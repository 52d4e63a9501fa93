import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const folder = join(import.meta.dirname, '..', '..', 'shared', 'practice');

/** ECMA-262, 21.3.2: the results of these are exact or correctly rounded; every other one is left to the engine. */
const exact = ['abs', 'ceil', 'floor', 'imul', 'max', 'min', 'round', 'sign', 'sqrt', 'trunc'];

it('the practice bench uses no function whose last digit may differ between engines', () => {
  const files = readdirSync(folder);
  expect(files).toContain('flame-curve.ts');
  const inexact = files.flatMap((file) => {
    const source = readFileSync(join(folder, file), 'utf8').replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*/gu, '');
    return [...source.matchAll(/Math\.([a-z]\w*)|\*\*/gu)]
      .filter(([, name]) => name === undefined || !exact.includes(name))
      .map(([use]) => `${file}: ${use}`);
  });
  expect(inexact).toEqual([]);
});
