import type { Command } from 'commander';
import { fail } from '../../../shared/model/outcome.ts';
import type { Status } from '../output.ts';
import { tellWritten } from '../output.ts';
import { captureFromStore } from '../captures/store-capture.ts';
import { missingStore, onStore, withStore } from '../captures/open-store.ts';
import type { StoreOptions } from '../captures/open-store.ts';
import { captureFormat, writeCapture } from '../captures/write-capture.ts';

export const describe = (command: Command): Command =>
  withStore(command)
    .description('Writes a capture of the store to a file. A data package holds everything, every raw line included.')
    .argument('<capture>', 'id of the capture, as "pilot-bench captures" lists it')
    .requiredOption('--out <file>', 'file to write: .zip, a package folder, or .csv (with setup and trials beside it)');

export async function run(id: string, options: StoreOptions & { out: string }): Promise<Status> {
  captureFormat(options.out);
  const missing = missingStore(options);
  if (missing) return tellWritten(fail(missing), options.out);
  return onStore(options, async (host) => {
    const capture = await captureFromStore(host, id);
    return tellWritten(capture.ok ? await writeCapture(capture.value, options.out) : capture, options.out);
  });
}
