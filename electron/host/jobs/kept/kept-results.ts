import { createHash, timingSafeEqual } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, statfsSync, statSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import { privateFolderMode } from '../../files/private-folder.ts';
import { writeAtomically } from '../../files/write-whole.ts';

/**
 * Results that were computed before, as files beside the store: one for each key. The key says all that a result depends on, so that one
 * is either the same as it would be computed now, or not found. They can be deleted at any time.
 */
export interface KeptResults {
  /** The result of this key; undefined when there is none, or its file is damaged, or another's. */
  read(key: string): unknown;
  /** Keeps what was computed and gives it back. Faults are not kept, and a disk that refuses does not matter. */
  keep<T>(key: string, outcome: Outcome<T>): Promise<Outcome<T>>;
}

/** A key of everything that a result depends on. */
export const resultKey = (...parts: (string | object | undefined)[]): string =>
  createHash('sha256')
    .update(JSON.stringify(parts.map((part) => part ?? null)))
    .digest('hex');

/** So many results are kept; those that were not used for the longest time go first. About 100 kB each. */
const mostResults = 500;
/** What a recording may need is not taken from a disk that is nearly full, bytes. */
const leastFree = 256 * 2 ** 20;
const checksumBytes = 32;

export function createKeptResults(storeFolder: string, most = mostResults): KeptResults {
  const folder = join(storeFolder, 'results');
  const fileOf = (key: string) => join(folder, `${key}.result`);
  return {
    read(key) {
      try {
        const bytes = readFileSync(fileOf(key));
        const content = bytes.subarray(checksumBytes);
        if (bytes.length < checksumBytes || !timingSafeEqual(checksumOf(content), bytes.subarray(0, checksumBytes)))
          return undefined;
        const found = deserialize(content) as { key: string; value: unknown };
        if (found.key !== key) return undefined;
        const now = new Date();
        utimesSync(fileOf(key), now, now);
        return found.value;
      } catch {
        // It is computed again, whatever the reason.
        return undefined;
      }
    },
    async keep(key, outcome) {
      if (!outcome.ok) return outcome;
      try {
        mkdirSync(folder, { recursive: true, mode: privateFolderMode });
        const { bavail, bsize } = statfsSync(folder);
        if (bavail * bsize < leastFree) return outcome;
        const content = serialize({ key, value: outcome.value });
        await writeAtomically(fileOf(key), Buffer.concat([checksumOf(content), content]), { isPrivate: true });
        removeOldest(folder, most);
      } catch {
        // The result is there; only the next one takes as long.
      }
      return outcome;
    },
  };
}

const checksumOf = (bytes: Uint8Array): Buffer => createHash('sha256').update(bytes).digest();

/** Removes a tenth more than necessary, so that not every new result has to look for the oldest. */
function removeOldest(folder: string, most: number): void {
  const names = readdirSync(folder);
  if (names.length <= most) return;
  const byAge = names
    .map((name) => join(folder, name))
    .map((file) => ({ file, usedMs: statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0 }))
    .sort((a, b) => a.usedMs - b.usedMs);
  for (const { file } of byAge.slice(0, names.length - Math.floor(most * 0.9))) rmSync(file, { force: true });
}
