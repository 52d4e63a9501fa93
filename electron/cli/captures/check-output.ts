import { lstat, readdir, stat } from 'node:fs/promises';
import { dirname, join, relative, sep } from 'node:path';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { reasonOf } from '../../host/files/write-whole.ts';
import { CallError } from '../output.ts';

/** `--force`: a file that exists may be replaced. */
export interface Overwriting {
  force?: boolean;
}

export const forceOption: [flags: string, description: string] = ['--force', 'replace a file that exists'];

const unwritable = (file: string, reason: string): Outcome<undefined> =>
  fail(fault('file-unwritable', { file, reason }));

/**
 * Checks before any work whether files may be written: not over others unless `force`, and never over a link, a device or a file that
 * is read-only. Fails with `file-exists` or `file-unwritable`; throws CallError for an empty name.
 */
export async function checkOutputFiles(files: readonly string[], { force }: Overwriting): Promise<Outcome<undefined>> {
  for (const file of files) {
    if (file.trim() === '') throw new CallError('the name of the file to write is empty');
    const folder = await checkFolder(file);
    if (!folder.ok) return folder;
    const free = await checkFile(file, force === true);
    if (!free.ok) return free;
  }
  return ok(undefined);
}

/** Checks that nothing stands beside `file` that would be read with it and is not written. Fails with `file-beside`. */
export async function checkBeside(file: string, others: readonly string[]): Promise<Outcome<undefined>> {
  for (const beside of others)
    if (!(await checkFile(beside, false)).ok) return fail(fault('file-beside', { file, beside }));
  return ok(undefined);
}

/**
 * Checks before any work whether a package folder may be written: it is new or empty or, with `force`, an older package.
 * Fails with `file-exists`, `file-beside` or `file-unwritable`; throws CallError for an empty name.
 *
 * @param names  files that will be written, by their path inside; an older package with others is refused
 */
export async function checkOutputFolder(
  folder: string,
  { force }: Overwriting,
  names?: readonly string[],
): Promise<Outcome<undefined>> {
  if (folder.trim() === '') throw new CallError('the name of the folder to write is empty');
  try {
    const status = await lstat(folder);
    if (status.isSymbolicLink()) return unwritable(folder, 'it is a link');
    if (!status.isDirectory()) return unwritable(folder, 'it is not a folder');
    const found = await readdir(folder, { recursive: true, withFileTypes: true });
    const files = found.flatMap((entry) =>
      entry.isDirectory() ? [] : [relative(folder, join(entry.parentPath, entry.name)).replaceAll(sep, '/')],
    );
    if (files.length === 0) return ok(undefined);
    if (!force) return fail(fault('file-exists', { file: folder }));
    if (!files.includes('datapackage.json')) return unwritable(folder, 'it holds files that are no data package');
    const other = names && files.find((file) => !names.includes(file));
    if (other !== undefined) return fail(fault('file-beside', { file: folder, beside: join(folder, other) }));
    for (const file of files) {
      const free = await checkFile(join(folder, file), true);
      if (!free.ok) return free;
    }
    return ok(undefined);
  } catch (error) {
    return isMissing(error) ? checkFolder(folder) : unwritable(folder, reasonOf(error));
  }
}

/** The folder that a file or folder is written into must exist. */
async function checkFolder(file: string): Promise<Outcome<undefined>> {
  try {
    const status = await stat(dirname(file));
    return status.isDirectory() ? ok(undefined) : unwritable(file, 'a part of its path is not a folder');
  } catch (error) {
    return unwritable(file, reasonOf(error));
  }
}

async function checkFile(file: string, force: boolean): Promise<Outcome<undefined>> {
  try {
    const status = await lstat(file);
    if (status.isSymbolicLink()) return unwritable(file, 'it is a link');
    if (status.isDirectory()) return unwritable(file, 'it is a folder');
    if (!status.isFile()) return unwritable(file, 'it is no file but a device or a pipe');
    if (!force) return fail(fault('file-exists', { file }));
    // Whoever may rename in the folder could replace it all the same: the mark on the file is meant.
    return (status.mode & 0o222) === 0 ? unwritable(file, 'it is read-only') : ok(undefined);
  } catch (error) {
    return isMissing(error) ? ok(undefined) : unwritable(file, reasonOf(error));
  }
}

const isMissing = (error: unknown): boolean => (error as NodeJS.ErrnoException).code === 'ENOENT';
