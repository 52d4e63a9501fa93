import { randomUUID } from 'node:crypto';
import { open, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { privateFileMode } from './private-folder.ts';

/** Why the file system refused, in a few words for people. */
export function reasonOf(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  switch (code) {
    case 'EACCES':
    case 'EPERM':
      return 'permission denied for this user';
    case 'EISDIR':
      return 'it is a folder';
    case 'ENOTDIR':
      return 'a part of its path is not a folder';
    case 'ELOOP':
      return 'its links form a loop';
    case 'ENOSPC':
      return 'the disk is full';
    case 'EROFS':
      return 'the disk is read-only';
    case 'ENOENT':
      return 'its folder does not exist';
    case 'EMFILE':
    case 'ENFILE':
      return 'too many files are open';
    case 'ENAMETOOLONG':
      return 'its name is too long';
    default:
      return message;
  }
}

/** Who may read a file that is written: `isPrivate`: this user only, whoever could before. */
export interface WriteOptions {
  isPrivate?: boolean;
}

/**
 * Writes a file so that it exists whole or not at all: under a temporary name beside it first, then renamed. One that it replaces
 * keeps who may read it, a new one gets what the user's umask gives; but see `isPrivate`.
 * Fails with `file-unwritable`.
 */
export async function writeAtomically(
  file: string,
  content: string | Uint8Array,
  { isPrivate = false }: WriteOptions = {},
): Promise<Outcome<undefined>> {
  const temporary = join(dirname(file), `.${randomUUID()}.part`);
  try {
    const older = isPrivate ? undefined : await stat(file).catch(() => undefined);
    const mode = isPrivate ? privateFileMode : older && older.mode & 0o777;
    // Exclusively: what somebody else has put there under that name is not written into.
    const handle = await open(temporary, 'wx', mode ?? 0o666);
    try {
      await handle.writeFile(content);
      // The umask takes bits away even from a mode that is given. A disk without such rights refuses.
      if (mode !== undefined) await handle.chmod(mode).catch(() => {});
      // Else a power failure could leave the new name with nothing in it.
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(temporary, file);
    return ok(undefined);
  } catch (error) {
    await rm(temporary, { force: true }).catch(() => {});
    return fail(fault('file-unwritable', { file, reason: reasonOf(error) }));
  }
}
