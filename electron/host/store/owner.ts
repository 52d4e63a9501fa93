import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Database } from 'better-sqlite3';

/** Who records a capture: one host in one process. */
export interface Owner {
  pid: number;
  /** Distinguishes this process from a later one with the same pid. */
  process: string;
  /** Distinguishes two hosts in one process. */
  host: string;
}

export const heartbeatEveryMs = 2000;
// Where a process cannot be distinguished from a later one with the same number, an owner without a heartbeat for this long is gone.
const silentOwnerMs = 15_000;

/**
 * Identifies the process with number `pid` among earlier and later ones with that number; empty where the system gives nothing for it,
 * or no file can be opened. Undefined when it has ended: there is none, or a zombie, whose parent has not asked for its exit status.
 * Source: proc(5), /proc/pid/stat: field 3 is the state, 22 the start time.
 */
function processMark(pid: number): string | undefined {
  if (process.platform !== 'linux') return '';
  try {
    const boot = readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    // The name in brackets before field 3 may itself hold blanks and brackets.
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
    return /^[ZXx]/u.test(fields[0]!) ? undefined : `${boot} ${fields[19]}`;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    return code === 'ESRCH' ? undefined : '';
  }
}

export const createOwner = (): Owner => ({
  pid: process.pid,
  process: processMark(process.pid) ?? '',
  host: randomUUID(),
});

/**
 * Whether the process of an owner still runs.
 * @param mark         its `Owner.process`
 * @param heartbeatMs  its last heartbeat, epoch milliseconds
 * @param wallMs       now, epoch milliseconds
 */
export function isAlive(pid: number, mark: string, heartbeatMs: number, wallMs: number): boolean {
  try {
    process.kill(pid, 0); // sends nothing, only tests whether there is such a process
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') return false;
  }
  const now = processMark(pid);
  if (now === undefined) return false;
  // What cannot be known now is not held against it: out of file descriptors, say.
  if (mark !== '' && now !== '') return now === mark;
  return Math.abs(wallMs - heartbeatMs) < silentOwnerMs;
}

interface OwnedRow {
  key: number;
  owner_pid: number;
  owner_process: string;
  owner_host: string;
  heartbeat_ms: number;
}

/** A recording into this store by another host. */
export interface OtherRecording {
  capture: string;
  pid: number;
}

/** The recordings of other running hosts into this store; to be called after `interruptOrphans`, which handles those that are gone. */
export const otherRecordings = (db: Database, self: Owner): OtherRecording[] =>
  db
    .prepare<[string], OtherRecording>(
      `SELECT id AS capture, owner_pid AS pid FROM capture WHERE status = 'recording' AND owner_host <> ? ORDER BY key`,
    )
    .all(self.host);

/**
 * Sets captures whose recording process is gone to interrupted.
 *
 * @param self    the calling host, whose own captures are left alone
 * @param wallMs  now, epoch milliseconds
 * @returns how many were set
 */
export function interruptOrphans(db: Database, self: Owner, wallMs: number): number {
  const rows = db
    .prepare<[], OwnedRow>(
      `SELECT key, owner_pid, owner_process, owner_host, heartbeat_ms FROM capture WHERE status = 'recording'`,
    )
    .all();
  const interrupt = db.prepare(
    `UPDATE capture SET status = 'interrupted', owner_pid = NULL, owner_process = NULL, owner_host = NULL,
       heartbeat_ms = NULL WHERE key = ? AND owner_host = ?`,
  );
  let found = 0;
  for (const row of rows) {
    if (row.owner_host === self.host) continue;
    if (isAlive(row.owner_pid, row.owner_process, row.heartbeat_ms, wallMs)) continue;
    found += interrupt.run(row.key, row.owner_host).changes;
  }
  return found;
}
