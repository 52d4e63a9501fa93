// Records real ports with the whole host until every line is stored, and prints what it took as JSON. Called with the folder of
// the store, the file that lets the meters begin, how many lines each sends, and the ports.
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { setTimeout as wait } from 'node:timers/promises';
import { openSerialPort } from '../../../electron/host/acquire/ports/serial-port.ts';
import { createHost } from '../../../electron/host/host.ts';
import { openStore } from '../../../electron/host/store/open.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { bytesBehind, compareLines } from './lines.ts';
import type { LineComparison } from './lines.ts';
import { start } from './ports.ts';

export interface Recorded {
  /** For each port, how the stored lines compare with those that were sent. */
  ports: LineComparison[];
  /** From the first byte to the last one in the store, read or not: from then on no kill can lose it. */
  safeSeconds: number;
  /** From the first byte to the last line in the store. */
  seconds: number;
  /** Processor time of this process in the same span, all threads. */
  cpuSeconds: number;
  eventLoopMs: { p50: number; p99: number; max: number };
}

const [folder = '', go = '', lines = '', ...paths] = process.argv.slice(2);
const count = Number(lines);
const untilDone = new AbortController().signal;
// Nothing more came for so long: what is missing is lost.
const timeoutMs = 5000;

let firstMs: number | undefined;
let cpuAtFirst = process.cpuUsage();
const created = createHost({
  dataFolder: folder,
  practice: false,
  version: 'benchmark',
  host: 'command',
  openPort: (request) =>
    openSerialPort({
      ...request,
      onBytes(bytes) {
        if (firstMs === undefined) {
          firstMs = performance.now();
          cpuAtFirst = process.cpuUsage();
        }
        request.onBytes(bytes);
      },
    }),
});
if (!created.ok) throw new Error(created.fault.message);
const { handlers, close } = created.value;
const profiles = ['pilot_pressure', 'flame_signal'].map((role) =>
  builtInProfiles.find(({ line, channels }) => line.format === 'number' && channels[0]?.role === role),
);
for (const [i, port] of paths.entries()) {
  const connected = await handlers['meters.connect']({ port, profile: profiles[i]?.name ?? '' }, untilDone);
  if (!connected.ok) throw new Error(connected.fault.message);
}
await wait(500); // the ports are open
const started = await handlers['captures.start']({ setup: {} }, untilDone);
if (!started.ok) throw new Error(started.fault.message);
const { capture } = started.value;

const reader = openStore(folder);
if (!reader.ok) throw new Error(reader.fault.message);
const { db } = reader.value;
const sums = db.prepare<[], { lines: number; unread: number; rows: number }>(
  'SELECT (SELECT sum(lines) FROM capture) AS lines, total(length(bytes)) AS unread, count(*) AS rows FROM unread',
);
const countExactly = db.transaction(() => {
  const unread = db.prepare<[], Buffer>('SELECT bytes FROM unread').pluck().all();
  return sums.get()!.lines + unread.reduce((ends, bytes) => ends + bytes.filter((byte) => byte === 0x0a).length, 0);
});
/**
 * Whether everything that was sent is in the store. Counting is slow, so the bytes are compared first: a row may lack the LF of
 * a CR LF.
 */
const isSafe = (): boolean => {
  const { lines, unread, rows } = sums.get()!;
  return behind[lines]! <= unread + rows && countExactly() === total;
};
const total = count * paths.length;
const behind = bytesBehind(total);

const delay = monitorEventLoopDelay({ resolution: 1 });
delay.enable();
start(go);
let [stored, safeMs, lastMs, cpuSeconds] = [0, 0, performance.now(), 0];
while (stored < count * paths.length && performance.now() - lastMs < timeoutMs) {
  await wait(20);
  // What is counted is stored while it is counted: the moment before is the right one.
  const beforeMs = performance.now();
  if (safeMs === 0 && isSafe()) safeMs = beforeMs;
  const view = await handlers['captures.get']({ capture }, untilDone);
  if (!view.ok) throw new Error(view.fault.message);
  if (view.value.lines === stored) continue;
  stored = view.value.lines;
  lastMs = performance.now();
  const { user, system } = process.cpuUsage(cpuAtFirst);
  cpuSeconds = (user + system) / 1e6;
}
delay.disable();
reader.value.close();
await handlers['captures.finish']({ capture }, untilDone);
await close();

const store = openStore(folder);
if (!store.ok) throw new Error(store.fault.message);
const linesOf = store.value.db.prepare<[string], Buffer>('SELECT raw FROM line WHERE port = ? ORDER BY seq').pluck();
const ports = paths.map((path) => compareLines(linesOf.all(path), count));
store.value.close();
process.stdout.write(
  JSON.stringify({
    ports,
    safeSeconds: ((safeMs || lastMs) - (firstMs ?? lastMs)) / 1000,
    seconds: (lastMs - (firstMs ?? lastMs)) / 1000,
    cpuSeconds,
    eventLoopMs: { p50: delay.percentile(50) / 1e6, p99: delay.percentile(99) / 1e6, max: delay.max / 1e6 },
  } satisfies Recorded),
);
