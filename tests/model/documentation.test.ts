import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '..', '..');
const documents = ['README.md', 'DEVELOPERS.md', join('sample-captures', 'README.md')];
const roots = ['shared', 'electron', 'renderer', 'tests', 'build', 'sample-captures'];

/** Every file of ours with its path from the root, with "/" between its parts. */
const files = [
  ...readdirSync(root),
  ...roots.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).map(
      (path) => `${folder}/${path.replaceAll(sep, '/')}`,
    ),
  ),
];
const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { scripts: Record<string, string> };

describe.each(documents)('%s', (document) => {
  const text = readFileSync(join(root, document), 'utf8');
  const code = [...text.matchAll(/`([^`\n]+)`/gu)].map((match) => match[1]!);

  it('names only source files that are there', () => {
    const named = code.filter((word) => /^[\w./-]+\.(?:ts|tsx|mjs|cjs|css|sql)$/u.test(word));
    expect(named.filter((name) => !files.some((file) => file === name || file.endsWith(`/${name}`)))).toEqual([]);
  });

  it('names only folders that are there', () => {
    const named = code.filter((word) => roots.includes(word.split('/')[0]!) && /^[\w/-]+$/u.test(word));
    expect(named.filter((name) => !existsSync(join(root, name)))).toEqual([]);
  });

  it('runs only scripts of package.json and files that are there', () => {
    const calls = [...text.matchAll(/npm run (?:-s )?([\w:-]+)/gu)].map((match) => match[1]!);
    expect(calls.filter((name) => !(name in scripts))).toEqual([]);
    const run = [...text.matchAll(/\bnode ([\w./-]+\.\w+)/gu)].map((match) => match[1]!);
    expect(run.filter((name) => !existsSync(join(root, name)))).toEqual([]);
  });

  it('links only to files that are there', () => {
    const links = [...text.matchAll(/\]\((?!https?:)([^)]+)\)/gu)].map((match) => match[1]!);
    expect(links.filter((name) => !existsSync(join(root, document, '..', name)))).toEqual([]);
  });
});

it('DEVELOPERS.md names the tables of contents', () => {
  const text = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8');
  for (const file of [
    'shared/analysis/analyze.ts',
    'electron/host/host.ts',
    'electron/cli/main.ts',
    'renderer/app.tsx',
  ])
    expect(text).toContain(`\`${file}\``);
});
