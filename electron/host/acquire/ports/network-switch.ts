import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { fault } from '../../../../shared/model/faults.ts';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';

const Kept = z.object({ allowed: z.boolean() });

/** Whether meters on the network may be used. */
export interface NetworkSwitch {
  allowed(): boolean;
  /** Keeps the choice beside the store. Fails with `file-unwritable`; it is not switched then. */
  set(allowed: boolean): Outcome<object>;
}

/**
 * The switch as the user left it in the store's folder; off when nothing is kept there or what is kept cannot be read.
 * @param given  a command was told so for this one time: what is kept does not count
 */
export function createNetworkSwitch(folder: string, given: boolean | undefined): NetworkSwitch {
  const file = join(folder, 'network.json');
  let now = given ?? kept(file);
  return {
    allowed: () => now,
    set(allowed) {
      try {
        // Whole or not at all, whenever the power fails.
        writeFileSync(`${file}.new`, `${JSON.stringify({ allowed })}\n`);
        renameSync(`${file}.new`, file);
      } catch (error) {
        return fail(fault('file-unwritable', { file, reason: error instanceof Error ? error.message : String(error) }));
      }
      now = allowed;
      return ok({});
    },
  };
}

function kept(file: string): boolean {
  try {
    return Kept.parse(JSON.parse(readFileSync(file, 'utf8'))).allowed;
  } catch {
    return false;
  }
}
