// Records simulated hours of two meters through the whole host, with a simulated clock, as fast as it goes, while a page
// follows. Prints the memory at each quarter as JSON. Called with the folder of the store, the simulated hours and the lines a
// second.
import { setTimeout as wait } from 'node:timers/promises';
import type { PortRequest } from '../../../electron/host/acquire/ports/port.ts';
import { createHost } from '../../../electron/host/host.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { lineOf } from './lines.ts';

export interface LongRun {
  lines: number;
  readingsShown: number;
  seconds: number;
  /** In use right after a collection, at each quarter; the whole process beside it. */
  quarters: { lines: number; usedMB: number; rssMB: number }[];
}

const [folder = '', hours = '', perSecond = ''] = process.argv.slice(2);
const totalS = Math.round(Number(hours) * 3600);
const rate = Number(perSecond);
const untilDone = new AbortController().signal;

let nowMs = 0;
const ports: PortRequest[] = [];
const created = createHost({
  dataFolder: folder,
  practice: false,
  version: 'benchmark',
  host: 'command',
  clock: { monotonicMs: () => nowMs, wallMs: () => Math.round(1_700_000_000_000 + nowMs) },
  openPort: async (request) => {
    ports.push(request);
    return ok({ startsOnNewLine: true, write: () => {}, close: async () => {} });
  },
});
if (!created.ok) throw new Error(created.fault.message);
const { handlers, close } = created.value;
for (const role of ['pilot_pressure', 'flame_signal']) {
  const profile = builtInProfiles.find(({ line, channels }) => line.format === 'number' && channels[0]?.role === role);
  await handlers['meters.connect']({ port: role, profile: profile?.name ?? '' }, untilDone);
}
const started = await handlers['captures.start']({ setup: {} }, untilDone);
if (!started.ok) throw new Error(started.fault.message);
const { capture } = started.value;

// What a page follows all the time; nothing is retained here.
const leaving = new AbortController();
let readingsShown = 0;
const followReadings = async () => {
  for await (const batch of handlers['readings.live']({ capture, after: 0 }, leaving.signal))
    readingsShown += batch.value.length;
};
const followMeters = async () => {
  for await (const meters of handlers['meters.live']({}, leaving.signal)) void meters;
};
const page = Promise.all([followReadings(), followMeters()]);

const storedLines = async () => {
  const view = await handlers['captures.get']({ capture }, untilDone);
  return view.ok ? view.value.lines : 0;
};
const beganMs = performance.now();
const quarters: LongRun['quarters'] = [];
const stepMs = 100;
const end = Buffer.from('\r\n');
let n = 0;
for (let quarter = 1; quarter <= 4; quarter += 1) {
  for (const untilMs = totalS * 250 * quarter; nowMs < untilMs;) {
    nowMs += stepMs;
    const due = Math.floor((nowMs / 1000) * rate);
    const some: Buffer[] = [];
    for (; n < due; n += 1) some.push(lineOf(n), end);
    for (const port of ports) port.onBytes(Buffer.concat(some));
    // Each simulated second the host has its turn; it stores when its own timer says so.
    if (nowMs % 1000 === 0) await wait(1);
  }
  while ((await storedLines()) < ports.length * n) await wait(20);
  globalThis.gc?.();
  globalThis.gc?.();
  const { heapUsed, arrayBuffers, rss } = process.memoryUsage();
  quarters.push({ lines: ports.length * n, usedMB: (heapUsed + arrayBuffers) / 1e6, rssMB: rss / 1e6 });
}
const seconds = (performance.now() - beganMs) / 1000;
const lines = await storedLines();
await wait(100);
leaving.abort();
await page;
await close();
process.stdout.write(JSON.stringify({ lines, readingsShown, seconds, quarters } satisfies LongRun));
