import { accessSync, constants } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';

/** What SQLite's refusal means for people; undefined when it was a bug of ours and not the disk's or the file's doing. */
export function storeFault(error: unknown, file: string, waiting = 0): Fault | undefined {
  if (!(error instanceof Database.SqliteError)) return undefined;
  const { code, message: reason } = error;
  if (code === 'SQLITE_FULL') return fault('store-full', { waiting });
  if (code.startsWith('SQLITE_CORRUPT') || code === 'SQLITE_NOTADB') return fault('store-damaged', { file, reason });
  if (/^SQLITE_(?:BUSY|LOCKED|IOERR|CANTOPEN|READONLY|PERM|AUTH|NOLFS|PROTOCOL)/.test(code))
    return fault('store-unavailable', { file, reason: readOnly(file) ?? reasons[code.split('_')[1] ?? ''] ?? reason });
  return undefined;
}

/** Does what can as well be done later, or by the next start: that the store refuses it is no news. */
export function ignoringStoreFaults(file: string, work: () => void): void {
  try {
    work();
  } catch (error) {
    if (!storeFault(error, file)) throw error;
  }
}

/** A store on a disk that cannot be written cannot be read either: SQLite keeps its log and a lock beside it. */
function readOnly(file: string): string | undefined {
  try {
    accessSync(dirname(file), constants.W_OK);
    return undefined;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EROFS') return undefined;
    return 'its disk can only be read. Copy its folder to another disk and open it there';
  }
}

const reasons: Record<string, string> = {
  BUSY: 'another program is writing to it just now',
  LOCKED: 'another program is writing to it just now',
  READONLY: 'it may only be read',
  IOERR: 'the disk refused to read or write',
  CANTOPEN: 'the file cannot be opened by this user',
};
