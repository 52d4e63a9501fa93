import { homedir, tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';

/**
 * The files that a capture may be rescued to, in the order in which they are tried: the one that was asked for, if it is a .zip; then one
 * named after the capture beside it, in the folder for temporary files, the user's own, the current one, and that of the store, as one
 * of them may be on another disk.
 * @param out  where the capture was to be exported
 */
export function rescuePlaces(capture: string, storeFolder: string, out?: string): string[] {
  const name = `pilot-bench-rescue-${capture}.zip`;
  const folders = [
    ...(out === undefined ? [] : [dirname(out)]),
    tmpdir(),
    // Kept over a restart, and on some systems not in memory, as the folder before it is.
    ...(process.platform === 'linux' ? ['/var/tmp'] : []),
    homedir(),
    process.cwd(),
    storeFolder,
  ];
  const files = folders.map((folder) => join(resolve(folder), name));
  return [...new Set(out?.toLowerCase().endsWith('.zip') ? [out, ...files] : files)];
}
