import { mkdir, readFile, readdir, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join, relative, sep } from 'node:path';
import type { Fault } from '../../shared/model/faults.ts';
import { fault } from '../../shared/model/faults.ts';
import type { Outcome } from '../../shared/model/outcome.ts';
import { fail, ok } from '../../shared/model/outcome.ts';

/** What the system said, in a few words for people. */
function reasonOf(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  switch (code) {
    case 'EACCES':
    case 'EPERM':
      return 'this user may not do that';
    case 'EISDIR':
      return 'it is a folder';
    case 'ENOTDIR':
      return 'a part of its path is not a folder';
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

const readFault = (file: string, error: unknown): Fault =>
  (error as NodeJS.ErrnoException).code === 'ENOENT'
    ? fault('file-missing', { file })
    : fault('file-unreadable', { file, reason: reasonOf(error) });

/** The bytes of a file. Fails with `file-missing` or `file-unreadable`. */
export async function readBytes(file: string): Promise<Outcome<Uint8Array>> {
  try {
    return ok(await readFile(file));
  } catch (error) {
    return fail(readFault(file, error));
  }
}

/** The text of a file, UTF-8 with or without BOM. Fails with `file-missing` or `file-unreadable`. */
export async function readText(file: string): Promise<Outcome<string>> {
  const bytes = await readBytes(file);
  return bytes.ok ? ok(new TextDecoder().decode(bytes.value)) : bytes;
}

/** What stands at a path. Fails with `file-missing` or `file-unreadable`. */
export async function kindOf(file: string): Promise<Outcome<'file' | 'folder'>> {
  try {
    return ok((await stat(file)).isDirectory() ? 'folder' : 'file');
  } catch (error) {
    return fail(readFault(file, error));
  }
}

/** All files of a folder by their path inside it, with `/` between the parts. Fails with `file-unreadable`. */
export async function readFolder(folder: string): Promise<Outcome<Map<string, Uint8Array>>> {
  const entries = new Map<string, Uint8Array>();
  try {
    for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
      if (!entry.isFile()) continue;
      const path = join(entry.parentPath, entry.name);
      entries.set(relative(folder, path).split(sep).join('/'), await readFile(path));
    }
    return ok(entries);
  } catch (error) {
    return fail(readFault(folder, error));
  }
}

/**
 * Writes a file so that it is there whole or not at all: beside its place first, then moved.
 * Fails with `file-unwritable`.
 */
export async function writeWhole(file: string, content: string | Uint8Array): Promise<Outcome<undefined>> {
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

/** Writes several files into a folder, which is made if it is not there. Fails with `file-unwritable`. */
export async function writeFolder(folder: string, entries: Map<string, Uint8Array>): Promise<Outcome<undefined>> {
  for (const [name, content] of entries) {
    const file = join(folder, name);
    try {
      await mkdir(dirname(file), { recursive: true });
    } catch (error) {
      return fail(fault('file-unwritable', { file: folder, reason: reasonOf(error) }));
    }
    const written = await writeWhole(file, content);
    if (!written.ok) return written;
  }
  return ok(undefined);
}
