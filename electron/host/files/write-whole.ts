import { rename, rm, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';

/** What the file system said, in a few words for people. */
export function reasonOf(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  switch (code) {
    case 'EACCES':
    case 'EPERM':
      return 'this user may not do that';
    case 'EISDIR':
      return 'it is a folder';
    case 'ENOTDIR':
      return 'a part of its path is not a folder';
    case 'ELOOP':
      return 'its links lead round in a circle';
    case 'ENOSPC':
      return 'the disk is full';
    case 'EROFS':
      return 'the disk can only be read';
    case 'ENOENT':
      return 'its folder does not exist';
    case 'ENAMETOOLONG':
      return 'its name is too long';
    default:
      return message;
  }
}

/**
 * Writes a file so that it is there whole or not at all: beside its place first, then moved.
 * Fails with `file-unwritable`.
 */
export async function writeAtomically(file: string, content: string | Uint8Array): Promise<Outcome<undefined>> {
  const beside = join(dirname(file), `.${basename(file)}.${process.pid}.part`);
  try {
    await writeFile(beside, content);
    await rename(beside, file);
    return ok(undefined);
  } catch (error) {
    await rm(beside, { force: true }).catch(() => {});
    return fail(fault('file-unwritable', { file, reason: reasonOf(error) }));
  }
}
