import { mkdir, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { bytesFault, maxFileBytes } from '../../../shared/files/limits.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { reasonOf, writeAtomically } from '../../host/files/write-whole.ts';
import { readBounded } from './read-bounded.ts';

/** Why a file could not be read: `file-missing` or `file-unreadable`. */
export const readFault = (file: string, error: unknown): Fault =>
  (error as NodeJS.ErrnoException).code === 'ENOENT'
    ? fault('file-missing', { file })
    : fault('file-unreadable', { file, reason: reasonOf(error) });

// A program that writes into a pipe may have to compute first.
const quietPipeS = 30;

/**
 * The bytes of a file or a pipe. Fails with `file-missing`, `file-unreadable` (a device, and a pipe that stays silent) or `file-too-large`,
 * before it is read where the system tells its size.
 */
export async function readBytes(file: string, pipeS = quietPipeS): Promise<Outcome<Uint8Array>> {
  const unreadable = (reason: string) => fail(fault('file-unreadable', { file, reason }));
  try {
    const status = await stat(file);
    if (status.isDirectory()) return unreadable('it is a folder');
    if (!status.isFile() && !status.isFIFO()) return unreadable('it is a device, not a file');
    const large = bytesFault(file, status.size);
    if (large) return fail(large);
    const read = await readBounded(file, maxFileBytes, pipeS);
    if ('tooMany' in read) return fail(bytesFault(file, read.tooMany)!);
    if ('silentS' in read) return unreadable(`nothing came through this pipe for ${read.silentS} s`);
    return ok(read.bytes);
  } catch (error) {
    return fail(readFault(file, error));
  }
}

/** The text of a file, UTF-8 with or without BOM. Fails with what `readBytes` fails with. */
export async function readText(file: string): Promise<Outcome<string>> {
  const bytes = await readBytes(file);
  return bytes.ok ? ok(new TextDecoder().decode(bytes.value)) : bytes;
}

/** Whether a path is a file or a folder. Fails with `file-missing` or `file-unreadable`. */
export async function kindOf(file: string): Promise<Outcome<'file' | 'folder'>> {
  try {
    return ok((await stat(file)).isDirectory() ? 'folder' : 'file');
  } catch (error) {
    return fail(readFault(file, error));
  }
}

/** Writes several files into a folder, which is created if it is missing. Fails with `file-unwritable`. */
export async function writeFolder(folder: string, entries: Map<string, Uint8Array>): Promise<Outcome<undefined>> {
  for (const [name, content] of entries) {
    const file = join(folder, name);
    try {
      await mkdir(dirname(file), { recursive: true });
    } catch (error) {
      return fail(fault('file-unwritable', { file: folder, reason: reasonOf(error) }));
    }
    const written = await writeAtomically(file, content);
    if (!written.ok) return written;
  }
  return ok(undefined);
}
