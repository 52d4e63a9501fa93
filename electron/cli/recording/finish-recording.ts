import { setTimeout } from 'node:timers/promises';
import type { Host } from '../../host/host.ts';
import type { Told } from '../output.ts';
import { say, sayFault } from '../output.ts';
import { metersNow } from './progress.ts';
import { untilDone } from '../captures/open-store.ts';

// Another program that writes to the store is done soon; a full disk stays full until somebody does something.
const busyTolerated = 20;
const busyWaitMs = 250;
const fullWaitMs = 1000;

/**
 * Completes a recording. Lines that the store will not take are put into a file: `out` where that is a .zip, else one in the folder
 * for temporary files. Where that is refused too, it says so, waits for room and tries again, as long as it takes.
 * Gives a fault when it was not completed: `lines-rescued`, with everything in safety, or what else `captures.finish` refused.
 */
export async function finishOrRescue(host: Host, capture: string, out: string | undefined): Promise<Told | undefined> {
  let told = '';
  for (let attempt = 1; ; attempt += 1) {
    const finished = await host.handlers['captures.finish']({ capture }, untilDone);
    if (finished.ok) return undefined;
    const { code } = finished.fault;
    const isBusy = code === 'store-unavailable';
    if (code !== 'store-full' && code !== 'store-gone' && !isBusy) return finished.fault;
    if (isBusy && attempt < busyTolerated) {
      await setTimeout(busyWaitMs);
      continue;
    }
    await disconnectAll(host);
    const rescued = await host.rescue(out?.toLowerCase().endsWith('.zip') ? out : undefined);
    // Nothing waits: then the store refused only to write down that the capture is complete.
    if (!rescued) return finished.fault;
    if (rescued.saved) return rescued.fault;
    if (rescued.fault.message !== told) {
      sayFault(rescued.fault);
      say('Free some space: it is tried again every second. A second Ctrl-C ends without them.');
    }
    told = rescued.fault.message;
    await setTimeout(fullWaitMs);
  }
}

/** What is waited for must not grow meanwhile. */
async function disconnectAll(host: Host): Promise<void> {
  for (const { port } of await metersNow(host)) await host.handlers['meters.disconnect']({ port }, untilDone);
}
