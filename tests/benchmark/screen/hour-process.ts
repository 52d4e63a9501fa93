import type { PortRequest } from '../../../electron/host/acquire/ports/port.ts';
import { createHost } from '../../../electron/host/host.ts';
import { ok } from '../../../shared/model/outcome.ts';

/**
 * Records an hour of two meters into a store as fast as it goes, and ends in the middle of the recording: a page that opens the store can
 * continue it. Arguments: folder of the store, ports of the manometer and of the flame signal meter, readings a second of each.
 * A regulator at rest: what is measured is the page, and the burner never turns.
 */
const [folder, gaugePort, flamePort, perSecond] = process.argv.slice(2) as [string, string, string, string];
const rate = Number(perSecond);
const seconds = 3600;
const never = new AbortController().signal;

let nowMs = 0;
const beganMs = Date.now() - seconds * 1000;
const ports = new Map<string, PortRequest>();
const opened = createHost({
  dataFolder: folder,
  practice: false,
  version: 'benchmark',
  host: 'command',
  clock: { monotonicMs: () => nowMs, wallMs: () => beganMs + nowMs },
  openPort: async (request) => {
    ports.set(request.path, request);
    return ok({ startsOnNewLine: true, write: () => {}, close: async () => {} });
  },
});
if (!opened.ok) throw new Error(opened.fault.message);
const host = opened.value;
for (const [port, profile] of [
  [gaugePort, 'Manometer, one number a line'],
  [flamePort, 'Multimeter, volts, one number a line'],
] as const) {
  const connected = await host.handlers['meters.connect']({ port, profile }, never);
  if (!connected.ok) throw new Error(connected.fault.message);
}
const started = await host.handlers['captures.start']({ setup: {} }, never);
if (!started.ok) throw new Error(started.fault.message);

for (let n = 0; n < seconds * rate; n += 1) {
  nowMs += 1000 / rate;
  // Noise without a generator of random numbers: two sines that never meet.
  ports.get(gaugePort)!.onBytes(Buffer.from(`${(2.5 + 0.004 * Math.sin(n * 1.7)).toFixed(3)}\r\n`));
  ports.get(flamePort)!.onBytes(Buffer.from(`${(5 + 0.03 * Math.sin(n * 2.3)).toFixed(3)}\r\n`));
  // The store takes the lines between turns of the event loop.
  if (n % 2000 === 0) await new Promise((resolve) => setTimeout(resolve));
}
while (host.pendingCount() > 0) await new Promise((resolve) => setTimeout(resolve, 20));
process.kill(process.pid, 'SIGKILL');
