import { unzipSync, zipSync } from 'fflate';
import type { Fault } from '../model/faults.ts';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { bytesFault, entriesFault } from './limits.ts';

const maxEntries = 1000;

/**
 * Unpacks a zip. Fails with `file-too-large` when the sizes in its directory exceed the limits, before anything is unpacked, and
 * with `package-invalid` when it is damaged.
 */
export function readZip(bytes: Uint8Array, file: string): Outcome<Map<string, Uint8Array>> {
  const large = bytesFault(file, bytes.length);
  if (large) return fail(large);
  try {
    const tooLarge = directoryFault(bytes, file);
    return tooLarge ? fail(tooLarge) : ok(new Map(Object.entries(unzipSync(bytes))));
  } catch {
    return fail(fault('package-invalid', { file, problems: 'the zip is damaged' }));
  }
}

/** `file-too-large` for the sizes in the zip's directory; throws when that is damaged. */
function directoryFault(bytes: Uint8Array, file: string): Fault | undefined {
  const sizes = new Map<string, number>();
  let count = 0;
  unzipSync(bytes, {
    filter: ({ name, originalSize }) => {
      count += 1;
      // A directory may claim billions of entries; throwing is the only way to stop.
      if (count > maxEntries) throw new Error('more entries than any package has');
      sizes.set(name, Math.max(originalSize, sizes.get(name) ?? 0));
      return false;
    },
  });
  return entriesFault(file, sizes);
}

/** Packs files by path; the same files give the same bytes. */
export const writeZip = (entries: Map<string, Uint8Array>): Uint8Array =>
  // A fixed time stamp, as the time of packing is not part of a capture.
  zipSync(Object.fromEntries(entries), { level: 6, mtime: new Date(1980, 0, 1) });
