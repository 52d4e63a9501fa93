import promises from 'node:fs/promises';
import { syncBuiltinESMExports } from 'node:module';
import { resolve, sep } from 'node:path';

type Files = Pick<typeof promises, 'open' | 'writeFile'>;
const { open, writeFile }: Files = promises;

/** From now on the disk of these folders is full: no file can be written there under a temporary name. '/': every folder. */
export function fillFolders(folders: readonly string[]): void {
  const isFull = (file: unknown) =>
    String(file).endsWith('.part') &&
    folders.some((folder) => resolve(String(file)).startsWith(folder === '/' ? '/' : `${resolve(folder)}${sep}`));
  const refusing = <A extends unknown[], R>(call: (...args: A) => Promise<R>) =>
    async function (...args: A): Promise<R> {
      if (isFull(args[0])) throw Object.assign(new Error('ENOSPC: no space left on device'), { code: 'ENOSPC' });
      return call(...args);
    };
  Object.assign(promises, { open: refusing(open), writeFile: refusing(writeFile) });
  syncBuiltinESMExports();
}

/** There is space again. */
export function freeFolders(): void {
  Object.assign(promises, { open, writeFile });
  syncBuiltinESMExports();
}
