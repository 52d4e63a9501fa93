import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import { writeAtomically } from '../../files/write-whole.ts';
import { ok } from '../../../../shared/model/outcome.ts';

const SavedSetting = z.object({ allowed: z.boolean() });

/** Whether meters on the network may be used. */
export interface NetworkSwitch {
  allowed(): boolean;
  /** Saves the setting beside the store. Fails with `file-unwritable`; then nothing changes. */
  set(allowed: boolean): Promise<Outcome<object>>;
}

/**
 * The switch as it was saved in the store's folder; off when nothing is saved there or it cannot be read.
 * @param folder    of the store
 * @param override  the setting for this run (`--allow-network`): then the saved one does not count
 */
export function createNetworkSwitch(folder: string, override: boolean | undefined): NetworkSwitch {
  const file = join(folder, 'network.json');
  let isAllowed = override ?? readSetting(file);
  return {
    allowed: () => isAllowed,
    async set(allowed) {
      const written = await writeAtomically(file, `${JSON.stringify({ allowed })}\n`, { isPrivate: true });
      if (!written.ok) return written;
      isAllowed = allowed;
      return ok({});
    },
  };
}

function readSetting(file: string): boolean {
  try {
    return SavedSetting.parse(JSON.parse(readFileSync(file, 'utf8'))).allowed;
  } catch {
    return false;
  }
}
