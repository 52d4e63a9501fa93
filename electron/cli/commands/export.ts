import type { Command } from 'commander';
import { fail } from '../../../shared/model/outcome.ts';
import type { Status } from '../output.ts';
import { reportWritten } from '../output.ts';
import { captureFromStore } from '../captures/store-capture.ts';
import { missingStore, withHost, withStoreOption } from '../captures/open-store.ts';
import type { StoreOptions } from '../captures/open-store.ts';
import { forceOption, type Overwriting } from '../captures/check-output.ts';
import { checkCaptureOutput, writeCapture } from '../captures/write-capture.ts';

export const describe = (command: Command): Command =>
  withStoreOption(command)
    .description(
      'Writes a capture from the store to a file. A data package contains everything, including every raw line.',
    )
    .argument('<capture>', 'id of the capture, as listed by "pilot-bench captures"')
    .requiredOption('--out <file>', 'file to write: .zip, a package folder, or .csv (with setup and trials beside it)')
    .option(...forceOption);

export async function run(id: string, options: StoreOptions & Overwriting & { out: string }): Promise<Status> {
  const free = await checkCaptureOutput(options.out, options);
  if (!free.ok) return reportWritten(free, options.out);
  const missing = missingStore(options);
  if (missing) return reportWritten(fail(missing), options.out);
  return withHost(options, async (host) => {
    const capture = await captureFromStore(host, id);
    return reportWritten(capture.ok ? await writeCapture(capture.value, options.out, options) : capture, options.out);
  });
}
