import { accessSync, constants, statfsSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';

/**
 * The fault for an error of SQLite: `store-full`, `store-damaged` or `store-unavailable`; undefined when it was not caused by the disk
 * or the file and so is a bug.
 * @param pending  how many lines the store has not taken yet
 */
export function storeFault(error: unknown, file: string, pending = 0): Fault | undefined {
  if (!(error instanceof Database.SqliteError)) return undefined;
  const { code, message: reason } = error;
  if (code === 'SQLITE_FULL') return fault('store-full', { waiting: pending });
  if (code.startsWith('SQLITE_CORRUPT') || code === 'SQLITE_NOTADB') return fault('store-damaged', { file, reason });
  if (/^SQLITE_(?:BUSY|LOCKED|IOERR|CANTOPEN|READONLY|PERM|AUTH|NOLFS|PROTOCOL)/.test(code))
    return fault('store-unavailable', {
      file,
      reason: readOnlyReason(file) ?? fullReason(code, file) ?? reasons[code.split('_')[1] ?? ''] ?? reason,
    });
  return undefined;
}

/** As `storeFault`, for an error while the store is opened: then nothing is to be saved yet, and a full disk is why it cannot be opened. */
export const startFault = (error: unknown, file: string): Fault | undefined =>
  error instanceof Database.SqliteError && error.code === 'SQLITE_FULL'
    ? fault('store-unavailable', { file, reason: fullDisk })
    : storeFault(error, file);

/** Does work that can as well be done later, or at the next start, so that a refusal of the store does not matter. */
export function ignoringStoreFaults(file: string, work: () => void): void {
  try {
    work();
  } catch (error) {
    if (!storeFault(error, file)) throw error;
  }
}

/** A store on a read-only disk cannot be read either: SQLite keeps its log and a lock beside it. */
function readOnlyReason(file: string): string | undefined {
  try {
    accessSync(dirname(file), constants.W_OK);
    return undefined;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EROFS') return undefined;
    return 'its disk is read-only. Copy its folder to another disk and open it there';
  }
}

const fullDisk = 'the disk is full. Free up some space and try again';
// SQLite's log and its index beside the store begin with this much.
const leastFreeBytes = 64 * 1024;

/** SQLite does not say of every file beside the store that there was no space for it. */
function fullReason(code: string, file: string): string | undefined {
  if (!/^SQLITE_(?:IOERR|CANTOPEN)/u.test(code)) return undefined;
  try {
    const { bavail, bsize } = statfsSync(dirname(file));
    return bavail * bsize < leastFreeBytes ? fullDisk : undefined;
  } catch {
    return undefined;
  }
}

const reasons: Record<string, string> = {
  BUSY: 'another program is writing to it',
  LOCKED: 'another program is writing to it',
  READONLY: 'it is read-only',
  IOERR: 'the disk refused to read or write',
  CANTOPEN: 'this user cannot open the file',
};
