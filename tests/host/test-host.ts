import Database from 'better-sqlite3';
import { onTestFinished } from 'vitest';
import type { PortRequest } from '../../electron/host/acquire/ports/port.ts';
import type { Host, HostOptions } from '../../electron/host/host.ts';
import { createHost } from '../../electron/host/host.ts';
import { findRow } from '../../electron/host/store/read/capture-rows.ts';
import { openStore } from '../../electron/host/store/open.ts';
import { storeFile } from '../../electron/host/store/store-file.ts';
import { readCapture } from '../../electron/host/store/read/read-capture.ts';
import { builtInProfiles } from '../../shared/instruments/built-in.ts';
import type { Capture } from '../../shared/model/capture.ts';
import { ok } from '../../shared/model/outcome.ts';
import { wait } from '../helpers/wait-until.ts';

export const neverAborted = new AbortController().signal;

export interface TestHost {
  host: Host;
  /** Sends bytes as the meter on a port. */
  send(bytes: string | Uint8Array, port?: string): void;
  /** The port goes away. */
  lose(port?: string): void;
  /** Starts a recording with the meters that are connected; gives its id. */
  record(): Promise<string>;
  /** The fault of the store that is shown now. */
  banner(): Promise<{ code: string; message: string } | undefined>;
}

export type TestHostOptions = Partial<Pick<HostOptions, 'clock' | 'practice' | 'startProcess' | 'timing'>>;

/** A whole host on ports that the test controls, closed after the test. The meter on `gauge` is connected. */
export async function openTestHost(folder: string, options: TestHostOptions = {}): Promise<TestHost> {
  const ports = new Map<string, PortRequest>();
  const created = createHost({
    dataFolder: folder,
    practice: false,
    version: 'test',
    host: 'command',
    ...options,
    timing: { retryMs: 20, storeRetryMs: 50, ...options.timing },
    openPort: async (request) => {
      ports.set(request.path, request);
      return ok({ startsOnNewLine: true, write: () => {}, close: async () => {} });
    },
  });
  const host = valueOf(created);
  onTestFinished(async () => void (await host.close()));
  valueOf(await host.handlers['meters.connect']({ port: 'gauge', profile: builtInProfiles[0]!.name }, neverAborted));
  return {
    host,
    send: (bytes, port = 'gauge') => ports.get(port)?.onBytes(Buffer.from(bytes)),
    lose: (port = 'gauge') => ports.get(port)?.onLost(),
    record: async () => valueOf(await host.handlers['captures.start']({ setup: {} }, neverAborted)).capture,
    banner: async () => {
      for await (const { fault } of host.handlers['store.live']({}, AbortSignal.timeout(1000))) return fault;
      throw new Error('store.live gave nothing');
    },
  };
}

/** The value of an outcome; throws when it is a fault. */
export function valueOf<T>(outcome: { ok: true; value: T } | { ok: false; fault: { message: string } }): T {
  if (!outcome.ok) throw new Error(outcome.fault.message);
  return outcome.value;
}

/** A capture as it is stored, read without the host. */
export function storedCapture(folder: string, id: string): Capture & { status: string } {
  const { db, close } = valueOf(openStore(folder));
  const row = findRow(db, id);
  if (typeof row === 'string') throw new Error(row);
  const capture = { ...readCapture(db, row), status: row.status };
  close();
  return capture;
}

/** The raw lines of a capture as text. */
export const lineTexts = (capture: Capture): string[] => capture.lines.map(({ raw }) => raw);

/** Sets a recording to interrupted, as another host does when the owner seems dead (another computer on the same folder, a laptop that slept). */
export function interruptAsOrphan(folder: string, capture: string): void {
  const db = new Database(storeFile(folder));
  db.prepare(
    `UPDATE capture SET status = 'interrupted', owner_pid = NULL, owner_process = NULL, owner_host = NULL, heartbeat_ms = NULL
     WHERE id = ?`,
  ).run(capture);
  db.close();
}

/** Waits until the fault of the store that is shown has this code, and gives it. */
export async function waitForBanner(
  code: string,
  banner: TestHost['banner'],
): Promise<{ code: string; message: string }> {
  for (let attempt = 0; attempt < 300; attempt += 1) {
    const shown = await banner();
    if (shown?.code === code) return shown;
    await wait(10);
  }
  throw new Error(`waited too long for ${code}`);
}
