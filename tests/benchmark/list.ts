import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { capturesIn } from '../../electron/host/jobs/kept/captures-in.ts';
import { createKeptResults } from '../../electron/host/jobs/kept/kept-results.ts';
import { importCapture } from '../../electron/host/store/import/import-capture.ts';
import { openStore, type Store } from '../../electron/host/store/open.ts';
import { listCaptures, unfinishedCaptures } from '../../electron/host/store/read/list-captures.ts';
import { analyze } from '../../shared/analysis/analyze.ts';
import type { Capture } from '../../shared/model/capture.ts';
import type { BenchmarkOptions, Section, SectionResult } from './section.ts';
import { threeMinutes } from './speed/three-minutes.ts';
import { median, table } from './table.ts';

/** Twenty times the captures may take this many times as long to import one, and to read what a page shows of them. */
const mostRatio = 3;
const sizes = [500, 10_000] as const;
const timedImports = 200;

export const list: Section = {
  name: 'list',
  title: 'List: stores of 500 and of 10,000 captures, and a result that was computed before',
  run,
};

const sites = ['North mill', 'Foundry', 'Brewery', 'Laundry', 'Hospital', 'Bakery', 'Tannery', 'Sawmill'];

/** An invented visit: one every 17 hours, at 500 burners of 8 sites. */
const visit = (n: number): Capture => ({
  id: `visit-${n}`,
  startedAt: new Date(Date.UTC(2005, 0, 1) + n * 17 * 3_600_000).toISOString(),
  technician: ['R. Odegaard', 'A. Lindqvist', 'K. Tanaka'][n % 3]!,
  burner: { site: sites[n % sites.length]!, name: `Boiler ${n % 500}`, serialNumber: `SN-${1000 + (n % 500)}` },
  meters: [],
  setup: { minimumSignal: { value: 1.25, unit: 'V' } },
  readings: Array.from({ length: 100 }, (_, i) => ({
    role: 'flame_signal',
    unit: 'V',
    elapsedS: i / 10,
    value: 4.6,
    raw: '4.60',
  })),
  lines: [],
  marks: [{ elapsedS: 1, kind: 'note', text: `sweep ${n}` }],
  trials: [{ pressure: 2.4, unit: 'inH2O', sparkDelayS: 0, lit: true }],
  notes: n % 3 === 0 ? [{ at: '2026-01-01T00:00:00Z', text: 'electrode replaced' }] : [],
});

const timeOf = (work: () => unknown): number => {
  const began = performance.now();
  work();
  return performance.now() - began;
};
const typicalTime = (work: () => unknown): number => median(Array.from({ length: 7 }, () => timeOf(work)));

/** Fills a store; milliseconds of a typical import at its end, and of each thing that a page asks for. */
function measureStore({ db }: Store, size: number): Record<string, number> {
  const imports = Array.from({ length: size }, (_, n) => {
    const capture = visit(n);
    return timeOf(() => importCapture(db, capture, undefined, '2026-01-01T00:00:00Z', () => {}));
  });
  const page = (search: string, from: number) => () => listCaptures(db, { search, from, count: 100 });
  return {
    'import of one': median(imports.slice(-timedImports)),
    'first page': typicalTime(page('', 0)),
    'last page': typicalTime(page('', size - 100)),
    'search for one burner': typicalTime(page('brewery "SN-1402"', 0)),
    'search that finds all': typicalTime(page('b', 0)),
    'those not complete, in the thread of the ports': typicalTime(() => unfinishedCaptures(db)),
  };
}

/** Milliseconds of an analysis, and of the same one taken as it was kept. */
async function measureKept(store: Store, folder: string): Promise<{ computedMs: number; keptMs: number }> {
  const { capture } = threeMinutes();
  importCapture(store.db, capture, undefined, '2026-01-01T00:00:00Z', () => {});
  const ask = async () => {
    const began = performance.now();
    const captures = capturesIn(store, createKeptResults(folder));
    const result = captures.result('analysis', [capture.id], (one) => analyze(one));
    if (!result.ok || !(await result.value()).ok) throw new Error('the sweep was not analyzed');
    return performance.now() - began;
  };
  const computedMs = await ask();
  const again: number[] = [];
  for (let i = 0; i < 7; i += 1) again.push(await ask());
  return { computedMs, keptMs: median(again) };
}

async function run({ progress }: BenchmarkOptions): Promise<SectionResult> {
  const measured: Record<string, number>[] = [];
  let kept = { computedMs: 0, keptMs: 0 };
  for (const size of sizes) {
    progress(`${size} captures`);
    const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-list-'));
    const opened = openStore(folder);
    if (!opened.ok) throw new Error(opened.fault.message);
    measured.push(measureStore(opened.value, size));
    kept = await measureKept(opened.value, folder);
    opened.value.close();
    rmSync(folder, { recursive: true, force: true });
  }
  const [small, large] = measured as [Record<string, number>, Record<string, number>];
  const rows = Object.keys(small).map((what) => ({ what, small: small[what]!, large: large[what]! }));
  const importRatio = large['import of one']! / small['import of one']!;
  const slowestMs = Math.max(...rows.slice(1).map((row) => row.large));
  return {
    lines: table([
      ['milliseconds', ...sizes.map(String), 'ratio'],
      ...rows.map((row) => [row.what, row.small.toFixed(2), row.large.toFixed(2), (row.large / row.small).toFixed(1)]),
      ['analysis of three minutes, computed and kept', kept.computedMs.toFixed(0), kept.keptMs.toFixed(1), ''],
    ]),
    data: { sizes, small, large, kept },
    figures: [
      {
        what: 'import of one capture into a store of 10,000, against one of 500',
        wanted: `under ${mostRatio} times`,
        found: `${importRatio.toFixed(1)} times`,
        met: importRatio < mostRatio,
      },
      {
        what: 'slowest page or search among 10,000',
        wanted: 'under 300 ms',
        found: `${slowestMs.toFixed(0)} ms`,
        met: slowestMs < 300,
      },
      {
        what: 'a result that was computed before, against computing it',
        wanted: 'under a tenth',
        found: `1/${(kept.computedMs / kept.keptMs).toFixed(0)}`,
        met: kept.keptMs < kept.computedMs / 10,
      },
    ],
  };
}
