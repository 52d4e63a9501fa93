import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

interface Shipped {
  name: string;
  version: string;
  license: string;
  text: string;
}
interface Licenses {
  isAllowed(expression: string): boolean;
  shippedPackages(): Shipped[];
  noticeOf(packages: Shipped[]): string;
}
// Plain JavaScript, as it runs before anything is installed.
const script: string = '../../build/licenses.mjs';
const { isAllowed, shippedPackages, noticeOf } = (await import(script)) as Licenses;

describe('the terms of a license', () => {
  // SPDX license expressions (spdx.github.io/spdx-spec, annex D): OR leaves the choice, AND asks for both.
  it.each([
    ['MIT', true],
    ['(MIT OR GPL-3.0-only)', true],
    ['Apache-2.0 AND BSL-1.0', true],
    ['MIT AND GPL-3.0-only', false],
    ['GPL-3.0-only', false],
    ['SEE LICENSE IN FILE', false],
    ['UNLICENSED', false],
    ['', false],
  ])('%s is allowed: %s', (expression, allowed) => expect(isAllowed(expression)).toBe(allowed));
});

describe('the licenses that go out with the program', () => {
  const packages = shippedPackages();
  const names = packages.map(({ name }) => name);

  it('are those of every production dependency and of what is bundled from the others, fonts included', () => {
    const { dependencies } = JSON.parse(readFileSync('package.json', 'utf8')) as { dependencies: object };
    expect(names).toEqual(expect.arrayContaining(Object.keys(dependencies)));
    expect(names).toEqual(expect.arrayContaining(['react', 'recharts', '@fontsource/b612', '@fontsource/b612-mono']));
    // Of a dependency, and of one that is needed only to build or to test.
    expect(names).toContain('@serialport/bindings-cpp');
    for (const name of ['electron-builder', 'vitest', 'playwright', 'typescript']) expect(names).not.toContain(name);
  });

  it('are all allowed', () => {
    expect(packages.filter(({ license }) => !isAllowed(license))).toEqual([]);
  });

  it('are in the file, the text of each that has one', () => {
    const file = readFileSync('out/licenses.txt', 'utf8');
    expect(file).toBe(`${noticeOf(packages)}\n`);
    for (const { name, version, text } of packages) {
      expect(file).toContain(`${name} ${version}\n`);
      expect(file).toContain(text);
    }
    expect(packages.filter(({ text }) => text === '').length).toBeLessThan(packages.length / 20);
  });
});
