import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

interface Override {
  files: string[];
  rules: { 'no-restricted-imports': [string, { patterns: { regex?: string }[] }] };
}

const root = join(import.meta.dirname, '..', '..');
const { overrides } = JSON.parse(readFileSync(join(root, '.oxlintrc.json'), 'utf8')) as { overrides: Override[] };
const folders = readdirSync(join(root, 'renderer'), { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => name);
const common = ['api', 'plot', 'state', 'ui'];
const places = folders.filter((name) => !common.includes(name));

/** Whether lint refuses this import in files of that folder. */
function isRefused(folder: string, specifier: string): boolean {
  const rule = overrides.find(({ files }) => files.includes(`renderer/${folder}/**`))?.rules['no-restricted-imports'];
  return rule?.[1].patterns.some(({ regex }) => regex !== undefined && new RegExp(regex, 'u').test(specifier)) ?? false;
}

describe('the lint rule for the places of the page', () => {
  it('knows every folder of the page', () => {
    expect(places).toHaveLength(10);
    expect(folders).toEqual(expect.arrayContaining(common));
  });

  it.each(folders)('refuses in %s every place but itself, however deep the file is', (folder) => {
    for (const place of places)
      for (const up of ['../', '../../', '../../../'])
        expect(isRefused(folder, `${up}${place}/Anything.tsx`), `${up}${place}`).toBe(place !== folder);
  });

  it('lets every place import what is common, and shared folders that bear the name of a place', () => {
    for (const place of places)
      for (const specifier of ['../ui/Panel.tsx', '../state/feeds.ts', '../../shared/practice/bench.ts'])
        expect(isRefused(place, specifier), specifier).toBe(false);
  });
});
