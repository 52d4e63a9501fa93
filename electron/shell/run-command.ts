import { app } from 'electron';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Fault } from '../../shared/model/faults.ts';
import { startProcessesBy } from '../cli/captures/open-store.ts';
import { printFault } from '../cli/output.ts';
import { runProgram } from '../cli/run-program.ts';
import { forkUtilityProcess } from './utility-process.ts';

/**
 * Runs a call of the command line in the installed program, without a window and without the lock of one, and ends with its exit status.
 *
 * @param refusal  why the program must not start as it was called
 */
export async function runCommand(given: string[], refusal: Fault | undefined): Promise<void> {
  if (refusal) {
    printFault(refusal);
    app.exit(1);
    return;
  }
  // Chromium writes files of its own, which must be no open window's.
  const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-call-'));
  app.setPath('userData', folder);
  app.setPath('sessionData', folder);
  app.dock?.hide();
  await app.whenReady();
  startProcessesBy(forkUtilityProcess);
  const status = await runProgram(given);
  rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
  app.exit(status);
}
