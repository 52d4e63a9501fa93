import { unzipSync, zipSync } from 'fflate';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { crc32 } from './crc32.ts';
import { bytesFault, entriesFault } from './limits.ts';

const maxEntries = 1000;

/**
 * Unpacks a zip. Fails with `file-too-large` when the sizes in its directory exceed the limits, before anything is unpacked, and
 * with `package-invalid` when it is damaged: a file's length or check sum is not the one in the directory, or two have one name.
 */
export function readZip(bytes: Uint8Array, file: string): Outcome<Map<string, Uint8Array>> {
  const large = bytesFault(file, bytes.length);
  if (large) return fail(large);
  const damaged = (problems: string) => fail(fault('package-invalid', { file, problems }));
  try {
    const directory = readDirectory(bytes);
    const names = directory.map(({ name }) => name);
    const twice = names.find((name, i) => names.indexOf(name) < i);
    if (twice !== undefined) return damaged(`the zip holds two files named ${twice}`);
    const tooLarge = entriesFault(file, new Map(directory.map(({ name, size }) => [name, size])));
    if (tooLarge) return fail(tooLarge);
    const entries = new Map(Object.entries(unzipSync(bytes)));
    for (const { name, size, sum } of directory) {
      const content = entries.get(name);
      if (content?.length !== size || crc32(content) !== sum)
        return damaged(`the zip is damaged: ${name} is not what was packed`);
    }
    return ok(entries);
  } catch {
    return damaged('the zip is damaged');
  }
}

/** A file as the zip's directory has it: bytes when unpacked, and their CRC-32. */
interface DirectoryEntry {
  name: string;
  size: number;
  sum: number;
}

/** The zip's directory. Throws when it is damaged, or holds more than any package. */
function readDirectory(bytes: Uint8Array): DirectoryEntry[] {
  const entries: DirectoryEntry[] = [];
  const sums = directorySums(bytes);
  unzipSync(bytes, {
    filter: ({ name, originalSize }) => {
      // A directory may claim billions of entries; throwing is the only way to stop.
      if (entries.length === maxEntries) throw new Error('more entries than any package has');
      entries.push({ name, size: originalSize, sum: sums.next().value! });
      return false;
    },
  });
  return entries;
}

/**
 * The check sums in the order of the directory, which the library does not give.
 * Source: APPNOTE 6.3.10 of the zip format, 4.3.12 (central directory) and 4.3.16 (its end).
 */
function* directorySums(bytes: Uint8Array): Generator<number, undefined> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - 22;
  while (view.getUint32(end, true) !== 0x0605_4b50) end -= 1;
  let at = view.getUint32(end + 16, true);
  for (let left = view.getUint16(end + 10, true); left > 0; left -= 1) {
    yield view.getUint32(at + 16, true);
    at += 46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return undefined;
}

/** Packs files by path; the same files give the same bytes. */
export const writeZip = (entries: Map<string, Uint8Array>): Uint8Array =>
  // A fixed time stamp, as the time of packing is not part of a capture.
  zipSync(Object.fromEntries(entries), { level: 6, mtime: new Date(1980, 0, 1) });
