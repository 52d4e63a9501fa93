import { mkdir, readFile, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { bytesFault } from '../../../shared/files/limits.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { reasonOf, writeAtomically } from '../../host/files/write-whole.ts';

/** Why a file could not be read: `file-missing` or `file-unreadable`. */
export const readFault = (file: string, error: unknown): Fault =>
  (error as NodeJS.ErrnoException).code === 'ENOENT'
    ? fault('file-missing', { file })
    : fault('file-unreadable', { file, reason: reasonOf(error) });

/** The bytes of a file. Fails with `file-missing`, `file-unreadable` or, before it is read, `file-too-large`. */
export async function readBytes(file: string): Promise<Outcome<Uint8Array>> {
  try {
    const large = bytesFault(file, (await stat(file)).size);
    return large ? fail(large) : ok(await readFile(file));
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
