import { unzipSync, zipSync } from 'fflate';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';

/** Most that is unpacked, bytes: an hour of two fast meters is under a hundredth of it; a bomb is more. */
const mostBytes = 1024 ** 3;
const mostEntries = 1000;

/** Unpacks a zip. Fails with `package-invalid` when it is damaged or unpacks to more than a capture can be. */
export function readZip(bytes: Uint8Array, file: string): Outcome<Map<string, Uint8Array>> {
  let total = 0;
  let count = 0;
  try {
    const entries = unzipSync(bytes, {
      filter: ({ originalSize }) => {
        total += originalSize;
        count += 1;
        return total <= mostBytes && count <= mostEntries;
      },
    });
    if (total > mostBytes || count > mostEntries)
      return fail(fault('package-invalid', { file, problems: 'it unpacks to more than a capture can be' }));
    return ok(new Map(Object.entries(entries)));
  } catch {
    return fail(fault('package-invalid', { file, problems: 'the zip is damaged' }));
  }
}

/** Packs entries; the same entries give the same bytes. */
export const writeZip = (entries: Map<string, Uint8Array>): Uint8Array =>
  // A fixed time stamp: what was packed when is not a part of a capture.
  zipSync(Object.fromEntries(entries), { level: 6, mtime: new Date(1980, 0, 1) });
