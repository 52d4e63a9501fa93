import { setTimeout } from 'node:timers/promises';
import type { Host } from '../../host/host.ts';
import { neverAborted } from '../captures/open-store.ts';
import type { FaultText } from '../output.ts';
import { printFault, printMessage } from '../output.ts';
import { currentMeters } from './progress.ts';

// Another program that writes to the store is done soon; a full disk stays full until somebody frees space.
const maxBusyAttempts = 20;
const busyRetryMs = 250;
const fullRetryMs = 1000;

/**
 * Completes a recording. When the store refuses lines, the whole capture is saved in a file at once: `out` where that is a .zip, else or
 * where that is refused, another place (`rescuePlaces`). Where all are refused it prints that, waits for space and retries, as long as it
 * takes.
 * @returns a fault when it was not completed: `lines-rescued`, with everything saved, or another one of `captures.finish`
 */
export async function finishOrRescue(
  host: Host,
  capture: string,
  out: string | undefined,
): Promise<FaultText | undefined> {
  let printed = '';
  for (let attempt = 1; ; attempt += 1) {
    const finished = await host.handlers['captures.finish']({ capture }, neverAborted);
    if (finished.ok) return undefined;
    const { code } = finished.fault;
    const isBusy = code === 'store-unavailable';
    if (code !== 'store-full' && code !== 'store-gone' && !isBusy) return finished.fault;
    if (isBusy && attempt < maxBusyAttempts) {
      await setTimeout(busyRetryMs);
      continue;
    }
    await disconnectAll(host);
    const rescued = await host.rescue(out);
    // Nothing is pending: then the store only refused to set the status to complete.
    if (!rescued) return finished.fault;
    if (rescued.saved) return rescued.fault;
    if (rescued.fault.message !== printed) {
      printFault(rescued.fault);
      printMessage(
        'Free some space: saving is retried every second. Ctrl-C does not end it, as these lines would be lost.',
      );
    }
    printed = rescued.fault.message;
    await setTimeout(fullRetryMs);
  }
}

/** No more lines may come while the pending ones are saved. */
async function disconnectAll(host: Host): Promise<void> {
  for (const { port } of await currentMeters(host)) await host.handlers['meters.disconnect']({ port }, neverAborted);
}
