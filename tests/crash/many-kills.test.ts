import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { createHost } from '../../electron/host/host.ts';
import { openStore } from '../../electron/host/store/open.ts';
import { createRandom } from '../../shared/numerics/random.ts';
import type { Random } from '../../shared/numerics/random.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { wait } from '../helpers/wait-until.ts';

const kills = Number(process.env['PILOT_BENCH_KILLS'] ?? 80);
// This many stores in parallel, each killed over and over: one starts while another records.
const stores = 4;
const promisedMs = 250;
const linesEveryMs = 4;

const recording = fileURLToPath(new URL('recording-process.ts', import.meta.url));
const untilDone = new AbortController().signal;

// A killed process leaves no compile cache for the next one; one that ends by itself does, which halves the start time.
const compiled = mkdtempSync(join(tmpdir(), 'pilot-bench-compiled-'));
beforeAll(() => {
  const host = new URL('../../electron/host/host.ts', import.meta.url).href;
  spawnSync(process.execPath, ['--eval', `import(${JSON.stringify(host)})`], {
    env: { ...process.env, NODE_COMPILE_CACHE: compiled },
  });
});
afterAll(() => rmSync(compiled, { recursive: true, force: true }));

/** The lines that were written to one recording process: the number of the first, and when each was sent. */
interface Sent {
  first: number;
  atMs: number[];
}

/** Starts a recording, sends it numbered lines as a meter would, and kills it `afterMs` after it began to record. */
async function recordAndKill(folder: string, interrupted: string | undefined, first: number, afterMs: number) {
  const child = spawn(process.execPath, [recording, folder, ...(interrupted ? [interrupted] : [])], {
    stdio: ['pipe', 'pipe', 'inherit'],
    env: { ...process.env, NODE_COMPILE_CACHE: compiled },
  });
  const ended = new Promise((resolve) => {
    child.once('close', resolve);
  });
  child.stdin.on('error', () => {}); // it was killed during a write
  const output = await new Promise<string>((resolve, reject) => {
    child.stdout.once('data', (text: Buffer) => resolve(text.toString()));
    child.once('close', () => reject(new Error('the recording process ended by itself')));
  });
  const sent: Sent = { first, atMs: [] };
  const sending = setInterval(() => {
    const line = `${first + sent.atMs.length}\r\n`;
    sent.atMs.push(performance.now());
    // Bytes arrive in any pieces: some lines come in two parts.
    if (sent.atMs.length % 3 > 0) child.stdin.write(line);
    else {
      child.stdin.write(line.slice(0, 2));
      setImmediate(() => child.stdin.write(line.slice(2)));
    }
  }, linesEveryMs);
  await wait(afterMs);
  const killedMs = performance.now();
  child.kill('SIGKILL');
  clearInterval(sending);
  await ended;
  const due = sent.atMs.filter((at) => at < killedMs - promisedMs).length;
  return { id: output.split('\n')[0]!.replace('recording ', ''), sent, due };
}

/** The numbers of all lines in a capture, and the result of the store's integrity check. */
function readStore(folder: string, id: string) {
  const store = openStore(folder);
  if (!store.ok) throw new Error(store.fault.message);
  const { db, close } = store.value;
  const numbers = db
    .prepare<[string], string>(
      'SELECT CAST(raw AS TEXT) FROM line JOIN capture ON key = capture WHERE id = ? ORDER BY seq',
    )
    .pluck()
    .all(id)
    .map(Number);
  const integrity = db.pragma('integrity_check', { simple: true });
  close();
  return { numbers, integrity };
}

/** A capture as the next start shows it, before and after `finish` completed it. */
async function showCapture(folder: string, id: string, finish: boolean) {
  const host = createHost({ dataFolder: folder, practice: false, version: 'test', host: 'command' });
  if (!host.ok) throw new Error(host.fault.message);
  const before = await host.value.handlers['captures.get']({ capture: id }, untilDone);
  if (finish)
    expect(await host.value.handlers['captures.finish']({ capture: id }, untilDone)).toMatchObject({ ok: true });
  const after = await host.value.handlers['captures.get']({ capture: id }, untilDone);
  await host.value.close();
  return { before, after };
}

/** Kills recordings into one store `times` times. Most go on with the capture that the kill before them interrupted. */
async function killOverAndOver(folder: string, times: number, random: Random): Promise<void> {
  let id: string | undefined;
  let earlier: number[] = [];
  for (let k = 0; k < times; k += 1) {
    // The numbers of each process begin at a thousand of their own.
    const recorded = await recordAndKill(folder, id, (k + 1) * 1000, 50 + Math.round(850 * random.uniform()));
    const found = readStore(folder, recorded.id);
    expect(found.integrity).toBe('ok');
    // The lines of earlier processes are unchanged; those of this one have no gap from the first on, and none that is due is missing.
    const own = found.numbers.slice(earlier.length);
    expect(found.numbers.slice(0, earlier.length)).toEqual(earlier);
    expect(own).toEqual(own.map((_, i) => recorded.sent.first + i));
    expect(own.length).toBeGreaterThanOrEqual(recorded.due);
    expect(own.length).toBeLessThanOrEqual(recorded.sent.atMs.length);

    const finish = k % 10 === 9;
    const { before, after } = await showCapture(folder, recorded.id, finish);
    expect(before).toMatchObject({ value: { status: 'interrupted', lines: found.numbers.length } });
    if (finish) {
      expect(after).toMatchObject({ value: { status: 'complete', lines: found.numbers.length } });
      expect(readStore(folder, recorded.id).numbers).toEqual(found.numbers);
    }
    id = finish ? undefined : recorded.id;
    earlier = finish ? [] : found.numbers;
  }
}

it(`${kills} kill -9 at any moment lose no line older than ${promisedMs} ms, and each interrupted capture is continued or completed with all its lines`, async () => {
  const seed = Number(process.env['PILOT_BENCH_SEED'] ?? Date.now() % 1_000_000);
  process.stdout.write(`kills: PILOT_BENCH_SEED=${seed}\n`);
  await Promise.all(
    Array.from({ length: stores }, (_, i) => killOverAndOver(testFolder(), kills / stores, createRandom(seed + i))),
  );
}, 300_000);
