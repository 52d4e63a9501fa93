import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

/** Node loads these as it loads the product: in the code that the test runner transforms, an analysis takes about 1.4 times as long. */
const asNode = { viteModuleRunner: false, nodeLoader: false };

/** Folders whose tests change nothing in their own process: they compute, or start commands in processes of their own. */
const together = [
  'advice',
  'analysis',
  'attack',
  'benchmark',
  'burner-state',
  'cli',
  'contract',
  'files',
  'instruments',
  'light-off',
  'model',
  'numerics',
  'practice',
  'report',
  'verify',
];
/** Tests of JSX, and of modules that are replaced: only the test runner's own loader can do that. */
const pages = 'tests/renderer/**/*.test.ts';
/** What these replace must not meet another file. */
const replacing = [
  'tests/shell/**/*.test.ts',
  ...globSync(pages, { cwd: import.meta.dirname }).filter((file) =>
    /\bvi\.(?:mock|doMock)\(/u.test(readFileSync(join(import.meta.dirname, file), 'utf8')),
  ),
];

export default defineConfig({
  test: {
    testTimeout: 30_000,
    hookTimeout: 30_000,
    // With more workers the tests with real ports would only wait for each other.
    maxWorkers: 2,
    projects: [
      {
        extends: true,
        test: {
          name: 'together',
          include: together.map((folder) => `tests/${folder}/**/*.test.ts`),
          experimental: asNode,
          // One process for many files: what is compiled once stays fast.
          isolate: false,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          name: 'host',
          include: ['tests/**/*.test.ts'],
          exclude: [
            'tests/e2e/**',
            'tests/crash/**',
            ...together.map((folder) => `tests/${folder}/**`),
            ...replacing,
            pages,
          ],
          experimental: asNode,
          // They put back what they change in their process (timers, the mode of new files, what a library is asked for).
          isolate: false,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          name: 'page',
          include: [pages],
          exclude: replacing,
          // Loading what they draw takes several times as long as drawing it.
          isolate: false,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: { name: 'replaced', include: replacing, sequence: { groupOrder: 1 } },
      },
      {
        extends: true,
        test: {
          // These hold the program to a promise in time: nothing else of ours runs beside them.
          name: 'crash',
          include: ['tests/crash/**/*.test.ts'],
          experimental: asNode,
          maxWorkers: 1,
          sequence: { groupOrder: 2 },
        },
      },
    ],
  },
});
