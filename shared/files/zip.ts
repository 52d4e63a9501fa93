import { unzipSync, zipSync } from 'fflate';
import type { Fault } from '../model/faults.ts';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { bytesFault, entriesFault } from './limits.ts';

const mostEntries = 1000;

/**
 * Unpacks a zip. Fails with `file-too-large` when its directory names more than a capture can be, before anything is unpacked, and
 * with `package-invalid` when it is damaged.
 */
export function readZip(bytes: Uint8Array, file: string): Outcome<Map<string, Uint8Array>> {
  const large = bytesFault(file, bytes.length);
  if (large) return fail(large);
  try {
    const refused = directoryFault(bytes, file);
    return refused ? fail(refused) : ok(new Map(Object.entries(unzipSync(bytes))));
  } catch {
    return fail(fault('package-invalid', { file, problems: 'the zip is damaged' }));
  }
}

/** What is wrong with the sizes that the zip's directory names; throws when that is damaged. */
function directoryFault(bytes: Uint8Array, file: string): Fault | undefined {
  const sizes = new Map<string, number>();
  let count = 0;
  unzipSync(bytes, {
    filter: ({ name, originalSize }) => {
      count += 1;
      // A directory may claim billions of entries, and this is the only way out of going through them.
      if (count > mostEntries) throw new Error('more entries than any package has');
      sizes.set(name, Math.max(originalSize, sizes.get(name) ?? 0));
      return false;
    },
  });
  return entriesFault(file, sizes);
}

/** Packs entries; the same entries give the same bytes. */
export const writeZip = (entries: Map<string, Uint8Array>): Uint8Array =>
  // A fixed time stamp: what was packed when is not a part of a capture.
  zipSync(Object.fromEntries(entries), { level: 6, mtime: new Date(1980, 0, 1) });
