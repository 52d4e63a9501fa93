import { chmodSync, closeSync, lstatSync, mkdirSync, openSync, readdirSync } from 'node:fs';
import { join } from 'node:path';

/** Files that only this user may read: captures name sites and people. */
export const privateFileMode = 0o600;
export const privateFolderMode = 0o700;

/** What Pilot Bench keeps in the folder of its store; `window` is Chromium's own folder of the desktop program, with its locks beside it; `results` is what was computed before. */
const ownNames =
  /^(?:pilot-bench\.sqlite(?:-wal|-shm|-journal)?|network\.json|open-\d+\.html|pilot-bench-rescue-.*\.zip|window|results|Singleton.*|lockfile|window\.json|\..*\.part)$/u;

/**
 * Creates the folder of the store for this user only, and closes one to other users that an earlier version left open, with the files in
 * it. A folder that holds other things as well, or belongs to somebody else, was chosen by the user and keeps its mode: only our files in
 * it are closed. Not on Windows, where a user's folder is closed by its access list.
 * Throws when the folder can neither be created nor read.
 */
export function makePrivateFolder(folder: string): void {
  mkdirSync(folder, { recursive: true, mode: privateFolderMode });
  if (process.platform === 'win32') return;
  const names = readdirSync(folder);
  for (const name of names) if (ownNames.test(name)) tighten(join(folder, name), 'isFile', privateFileMode);
  if (names.every((name) => ownNames.test(name))) tighten(folder, 'isDirectory', privateFolderMode);
}

/** Creates an empty file for this user only where there is none. SQLite gives the files beside a store the mode that the store has. */
export function createPrivateFile(file: string): void {
  try {
    closeSync(openSync(file, 'ax', privateFileMode));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
}

/** Takes from a file or folder of this user's what `mode` does not allow. A disk without such rights keeps what it has. */
function tighten(path: string, kind: 'isFile' | 'isDirectory', mode: number): void {
  const found = lstatSync(path, { throwIfNoEntry: false });
  // Sticky: a folder of all users, such as that for temporary files.
  const isSticky = found !== undefined && (found.mode & 0o1000) !== 0;
  if (!found?.[kind]() || found.uid !== process.getuid?.() || isSticky || (found.mode & 0o777 & ~mode) === 0) return;
  try {
    chmodSync(path, found.mode & mode);
  } catch {
    // Better a store that others can read than none.
  }
}
