import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { runCommand } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';

it('4.9 million rows in 256 MB of memory are refused in words, and what fits is still read', async () => {
  const folder = testFolder();
  const rows = (count: number) =>
    `elapsed_s,pilot_pressure_inH2O\n${Array.from({ length: count }, (_, i) => `${i},2\n`).join('')}`;
  writeFileSync(join(folder, 'large.csv'), rows(4_900_000));
  writeFileSync(join(folder, 'small.csv'), rows(100_000));
  const env = { NODE_OPTIONS: '--max-old-space-size=256' };
  for (const args of [
    ['analyze', 'large.csv'],
    ['convert', 'large.csv', 'out.zip'],
    ['import', 'large.csv'],
  ]) {
    const { status, err } = await runCommand(args, folder, env);
    expect({ args, status }).toEqual({ args, status: 1 });
    // Its heading counts as a row.
    expect(err).toMatch(/large\.csv is too large: it holds about 4,900,001 readings, and the limit is \d{3},\d{3} /u);
  }
  expect((await runCommand(['convert', 'small.csv', 'out.zip'], folder, env)).status).toBe(0);
}, 120_000);
