import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { fault } from '../../../../shared/model/faults.ts';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';

const SavedSetting = z.object({ allowed: z.boolean() });

/** Whether meters on the network may be used. */
export interface NetworkSwitch {
  allowed(): boolean;
  /** Saves the setting beside the store. Fails with `file-unwritable`; then nothing changes. */
  set(allowed: boolean): Outcome<object>;
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
    set(allowed) {
      try {
        // Atomically, so that a power failure leaves the old setting or the new one.
        writeFileSync(`${file}.new`, `${JSON.stringify({ allowed })}\n`);
        renameSync(`${file}.new`, file);
      } catch (error) {
        return fail(fault('file-unwritable', { file, reason: error instanceof Error ? error.message : String(error) }));
      }
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
