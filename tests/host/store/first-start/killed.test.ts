import { copyFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { storeFile } from '../../../../electron/host/store/store-file.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';
import { testFolder } from '../../../helpers/test-folder.ts';
import { wait } from '../../../helpers/wait-until.ts';
import { openHere, prepareOpening } from './opening.ts';

// PILOT_BENCH_START_KILLS=200 makes them all.
const kills = Number(process.env['PILOT_BENCH_START_KILLS'] ?? 10);
// A first start takes 5 to 20 ms here.
const longestMs = 25;

/** A folder without a store, or with one of the first version, which the next start migrates. */
function prepareFolder(version: 'none' | '1'): string {
  const folder = testFolder();
  if (version === 'none') return folder;
  const made = join(folder, 'made.sqlite');
  const db = new Database(made);
  db.exec(readFileSync(new URL('../migrations/version-1.sql', import.meta.url), 'utf8'));
  db.close();
  copyFileSync(made, storeFile(folder));
  return folder;
}

it.each(['none', '1'] as const)(
  `opens after each of ${kills} kills at any moment of a start (store of version %s before)`,
  async (version) => {
    const seed = Number(process.env['PILOT_BENCH_SEED'] ?? Date.now() % 1_000_000);
    process.stdout.write(`kills during a start: PILOT_BENCH_SEED=${seed}\n`);
    const random = createRandom(seed);
    for (let kill = 0; kill < kills; kill += 1) {
      const folder = prepareFolder(version);
      const opening = await prepareOpening(folder);
      opening.go();
      await wait(longestMs * random.uniform());
      opening.kill();
      await opening.ended;
      expect(openHere(folder)).toBe('opened');
    }
  },
  300_000,
);

it.each(['none', '1'] as const)(
  'opens after a kill between any two steps of a start (store of version %s before)',
  async (version) => {
    for (let calls = 0; ; calls += 1) {
      const folder = prepareFolder(version);
      const opening = await prepareOpening(folder, calls);
      opening.go();
      const printed = await opening.ended;
      expect(openHere(folder)).toBe('opened');
      if (printed !== '') {
        expect(printed).toBe('opened');
        expect(calls).toBeGreaterThan(10);
        return;
      }
    }
  },
  120_000,
);
