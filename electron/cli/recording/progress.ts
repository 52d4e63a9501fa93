import type { MeterState } from '../../../shared/contract/api.ts';
import { formatDuration, noNumber } from '../../../shared/model/format.ts';
import type { Host } from '../../host/host.ts';
import { neverAborted } from '../captures/open-store.ts';

// A person at a terminal sees it move; a log file is not flooded.
const everyMs = process.stderr.isTTY ? 1000 : 5000;
// Ports open in milliseconds; a converter that is just being plugged in takes a second or two.
const settleMs = 3000;
// A fault must be gone this long before its end is printed.
const clearAfterMs = 1000;

export interface MeterMonitor {
  /** The meters once each is open or known not to open; at the latest after three seconds. */
  settled(): Promise<MeterState[]>;
  /** From now on prints a line of progress at intervals. */
  startProgress(): void;
  latest(): MeterState[];
  stop(): void;
}

/** The meters as they are at this moment. */
export async function currentMeters(host: Host): Promise<MeterState[]> {
  for await (const meters of host.handlers['meters.live']({}, neverAborted)) return meters;
  return [];
}

/** Follows the meters, and prints every fault and its end at once. */
export function monitorMeters(host: Host, print: (line: string) => void): MeterMonitor {
  const ended = new AbortController();
  let latest: MeterState[] = [];
  let timer: NodeJS.Timeout | undefined;
  const printed = new Map<string, PrintedFault>();
  const listeners = new Set<() => void>();

  const followMeters = async () => {
    for await (const meters of host.handlers['meters.live']({}, ended.signal)) {
      latest = meters;
      for (const meter of latest) printFaultChange(meter, printed, print);
      for (const listener of listeners) listener();
    }
  };
  const followStore = async () => {
    let last: { code: string; atMs: number } | undefined;
    for await (const { fault } of host.handlers['store.live']({}, ended.signal)) {
      // Its count of lines changes all the time: printed at intervals, not at every change.
      const isNews = fault?.code !== last?.code || performance.now() - (last?.atMs ?? 0) > everyMs;
      if (!isNews) continue;
      if (fault) print(`pilot-bench: ${fault.message}`);
      else if (last?.code.startsWith('store-') && last.code !== 'store-shared')
        print('pilot-bench: The store accepts lines again. All lines held in memory are stored.');
      else if (last) print('pilot-bench: The other Pilot Bench has ended its recording.');
      last = fault && { code: fault.code, atMs: performance.now() };
    }
  };
  const followBurner = async () => {
    let last: string | undefined;
    for await (const { alarm } of host.handlers['burner.live']({}, ended.signal)) {
      if (alarm?.message === last) continue;
      print(`pilot-bench: ${alarm?.message ?? 'The alarm is over: the gas is shut.'}`);
      last = alarm?.message;
    }
  };
  const following = Promise.all([followMeters(), followStore(), followBurner()]);
  // A bug in a feed must not go unnoticed, nor end the recording.
  following.catch((error: unknown) => print(`pilot-bench: progress is no longer shown (${String(error)})`));

  return {
    settled: () =>
      new Promise((resolve) => {
        const done = () => {
          clearTimeout(limit);
          listeners.delete(check);
          resolve(latest);
        };
        const check = () => {
          if (latest.length > 0 && latest.every((meter) => meter.status !== 'opening')) done();
        };
        const limit = setTimeout(done, settleMs);
        listeners.add(check);
        check();
      }),
    startProgress() {
      const startedMs = performance.now();
      timer = setInterval(() => print(progressLine(latest, performance.now() - startedMs)), everyMs);
    },
    latest: () => latest,
    stop() {
      clearInterval(timer);
      ended.abort();
    },
  };
}

/** The fault of a meter that was printed last. `clearMs`: since when it has been gone. */
interface PrintedFault {
  message: string;
  clearMs?: number;
}

/** Prints the fault of a meter when it is new, and its end; one that comes and goes with every line is printed once. */
function printFaultChange(
  { port, fault }: MeterState,
  printed: Map<string, PrintedFault>,
  print: (line: string) => void,
): void {
  const last = printed.get(port);
  if (fault) {
    printed.set(port, { message: fault.message });
    if (fault.message !== last?.message) print(`pilot-bench: ${fault.message}`);
    return;
  }
  if (!last) return;
  last.clearMs ??= performance.now();
  if (performance.now() - last.clearMs < clearAfterMs) return;
  printed.delete(port);
  print(`pilot-bench: ${port} is back.`);
}

/** "1 min 20 s  /dev/ttyUSB0: 800 lines, pilot_pressure 2.31 inH2O; ..." */
function progressLine(meters: MeterState[], ms: number): string {
  const each = meters.map((meter) => {
    const values = meter.latest.map(
      ({ role, value, unit, flag }) => `${role} ${flag ?? (Number.isFinite(value) ? `${value} ${unit}` : noNumber)}`,
    );
    return `${meter.port}: ${[`${meter.lines} lines`, ...values].join(', ')}`;
  });
  return `${formatDuration(ms / 1000)}  ${each.join('; ')}`;
}
