// `npm run attack`: tries every attack on the program by the tests that stand for it, and prints what was held.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { attacks } from './attacks.ts';
import { asTable, judge } from './judge.ts';
import type { TestReport } from './judge.ts';

const root = join(import.meta.dirname, '..', '..');
const mutations = 1000;
// Another one each time; the same number draws the same mutations and kills again.
const seed = process.env['PILOT_BENCH_SEED'] ?? String(Date.now() % 1_000_000);
// Whoever hangs has not held.
const longestMs = 30 * 60_000;

const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-attack-'));
const report = join(folder, 'report.json');
process.stdout.write(`${mutations} mutations each, PILOT_BENCH_SEED=${seed}\n`);
const places = [...new Set(attacks.map(({ tests }) => tests))];
const vitest = join(root, 'node_modules', 'vitest', 'vitest.mjs');
// One file after the other: the kills measure a quarter of a second.
const options = [
  '--maxWorkers=1',
  '--reporter=default',
  '--reporter=json',
  `--outputFile.json=${report}`,
  '--testTimeout=300000',
];
spawnSync(process.execPath, [vitest, 'run', ...options, ...places], {
  cwd: root,
  // The table is the result; how the tests went stands before it, apart.
  stdio: ['ignore', 2, 2],
  env: {
    ...process.env,
    PILOT_BENCH_MUTATIONS: String(mutations),
    PILOT_BENCH_KILLS: '200',
    PILOT_BENCH_START_KILLS: '200',
    PILOT_BENCH_SEED: seed,
  },
  timeout: longestMs,
});
const results = readReport();
const verdicts = attacks.map((attack) => judge(attack, results, root));
rmSync(folder, { recursive: true, force: true });
const held = verdicts.filter((verdict) => verdict.held).length;
process.stdout.write(`${asTable(verdicts)}\n${held} of ${verdicts.length} attacks held.\n`);
process.exitCode = held === verdicts.length ? 0 : 1;

/** Nothing at all when the tests did not come to their end. */
function readReport(): TestReport {
  try {
    return JSON.parse(readFileSync(report, 'utf8')) as TestReport;
  } catch {
    return { testResults: [] };
  }
}
