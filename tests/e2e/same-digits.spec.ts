import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from '@playwright/test';
import { build } from 'vite';
import { writeWideCsv } from '../../shared/files/wide-csv.ts';
import { drawSweep } from '../benchmark/sweep/kinds.ts';
import { type CaptureTexts, digitsOf } from './digits-of.ts';

const root = join(import.meta.dirname, '..', '..');

function sample(name: string): CaptureTexts {
  const part = (ending: string) => ({
    file: `${name}.${ending}`,
    text: readFileSync(join(root, 'sample-captures', `${name}.${ending}`), 'utf8'),
  });
  return { ...part('csv'), setup: part('setup.json'), trials: part('trials.csv') };
}

/** The analysis as one script for a page, made from the same sources. */
async function analysisForThePage(): Promise<string> {
  const made = await build({
    root,
    configFile: false,
    logLevel: 'error',
    build: {
      write: false,
      minify: false,
      lib: {
        entry: join(import.meta.dirname, 'digits-of.ts'),
        formats: ['iife'],
        name: 'analysis',
        fileName: 'analysis',
      },
    },
  });
  const [output] = Array.isArray(made) ? made : [made];
  if (!output || !('output' in output)) throw new Error('vite made no bundle');
  return output.output[0].code;
}

const captures: [string, CaptureTexts][] = [
  ['the sample capture clean', sample('clean')],
  ['the sample capture flame-lost', sample('flame-lost')],
  ['a simulated sweep', { file: 'simulated.csv', text: writeWideCsv(drawSweep('uneven shoulders', 1).capture) }],
];

test.describe('the same capture gives the same digits in Node and in Chromium', () => {
  let script: string;
  test.beforeAll(async () => {
    script = await analysisForThePage();
  });
  for (const [name, texts] of captures)
    test(name, async ({ page }) => {
      await page.addScriptTag({ content: script });
      const there = await page.evaluate(
        (given) => (globalThis as unknown as { analysis: { digitsOf: typeof digitsOf } }).analysis.digitsOf(given),
        texts,
      );
      expect(there).toEqual(digitsOf(texts));
      // An answer with its curve and pairs, not an empty one.
      expect(Object.keys(there).length).toBeGreaterThan(30);
    });
});
