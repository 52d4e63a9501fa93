import type { MeterState } from '../../../shared/contract/api.ts';
import { formatDuration, noNumber } from '../../../shared/model/format.ts';
import type { Host } from '../../host/host.ts';
import { untilDone } from '../captures/open-store.ts';

// A person at a terminal sees it move; a log file is not flooded.
const everyMs = process.stderr.isTTY ? 1000 : 5000;
// Ports open in milliseconds; a converter that is just being plugged in takes a second or two.
const settleMs = 3000;

const clearForMs = 1000;

export interface MeterWatch {
  /** The meters once each is open or known not to be; at the latest after three seconds. */
  settled(): Promise<MeterState[]>;
  /** From now on: a line of progress now and then. */
  tellProgress(): void;
  latest(): MeterState[];
  stop(): void;
}

/** The meters as they are at this moment. */
export async function metersNow(host: Host): Promise<MeterState[]> {
  for await (const meters of host.handlers['meters.live']({}, untilDone)) return meters;
  return [];
}

/** Follows the meters, and tells every trouble and its end at once. */
export function watchMeters(host: Host, tell: (line: string) => void): MeterWatch {
  const ended = new AbortController();
  let latest: MeterState[] = [];
  let timer: NodeJS.Timeout | undefined;
  const told = new Map<string, ToldTrouble>();
  const waiting = new Set<() => void>();

  const follow = async () => {
    for await (const meters of host.handlers['meters.live']({}, ended.signal)) {
      latest = meters;
      for (const meter of latest) tellTrouble(meter, told, tell);
      for (const look of waiting) look();
    }
  };
  const followStore = async () => {
    let told: { code: string; atMs: number } | undefined;
    for await (const { fault } of host.handlers['store.live']({}, ended.signal)) {
      // Its count grows all the time: told again now and then, not at every line.
      const isNews = fault?.code !== told?.code || performance.now() - (told?.atMs ?? 0) > everyMs;
      if (!isNews) continue;
      if (fault) tell(`pilot-bench: ${fault.message}`);
      else if (told?.code.startsWith('store-') && told.code !== 'store-shared')
        tell('pilot-bench: The store takes lines again. Everything that waited is stored.');
      else if (told) tell('pilot-bench: The other Pilot Bench has ended its recording.');
      told = fault && { code: fault.code, atMs: performance.now() };
    }
  };
  const over = Promise.all([follow(), followStore()]);
  // A bug in a feed must not pass in silence, nor end the recording.
  over.catch((error: unknown) => tell(`pilot-bench: progress is not shown any more (${String(error)})`));

  return {
    settled: () =>
      new Promise((resolve) => {
        const done = () => {
          clearTimeout(limit);
          waiting.delete(look);
          resolve(latest);
        };
        const look = () => {
          if (latest.length > 0 && latest.every((meter) => meter.status !== 'opening')) done();
        };
        const limit = setTimeout(done, settleMs);
        waiting.add(look);
        look();
      }),
    tellProgress() {
      const beganMs = performance.now();
      timer = setInterval(() => tell(progressLine(latest, performance.now() - beganMs)), everyMs);
    },
    latest: () => latest,
    stop() {
      clearInterval(timer);
      ended.abort();
    },
  };
}

/** The trouble of a meter that people know of. `clearMs`: since when it has been gone. */
interface ToldTrouble {
  message: string;
  clearMs?: number;
}

/** A trouble that comes and goes with every answer is told once. */
function tellTrouble({ port, fault }: MeterState, told: Map<string, ToldTrouble>, tell: (line: string) => void): void {
  const before = told.get(port);
  if (fault) {
    told.set(port, { message: fault.message });
    if (fault.message !== before?.message) tell(`pilot-bench: ${fault.message}`);
    return;
  }
  if (!before) return;
  before.clearMs ??= performance.now();
  if (performance.now() - before.clearMs < clearForMs) return;
  told.delete(port);
  tell(`pilot-bench: ${port} is back.`);
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
