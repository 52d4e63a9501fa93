import type { Command } from 'commander';
import type { CaptureSummary } from '../../../shared/contract/api.ts';
import { formatStart } from '../../../shared/model/format.ts';
import type { Status } from '../output.ts';
import { columns, print, printJson, printMessage, printFault } from '../output.ts';
import { missingStore, neverAborted, withHost, withStoreOption } from '../captures/open-store.ts';
import type { StoreOptions } from '../captures/open-store.ts';

export const describe = (command: Command): Command =>
  withStoreOption(command)
    .description(
      'Lists the captures in the store. A capture whose recording was killed has the status "interrupted"; it keeps everything recorded until then.',
    )
    .option('--json', 'print one line of JSON per capture');

export async function run(options: StoreOptions & { json?: boolean }): Promise<Status> {
  const missing = missingStore(options);
  if (missing) {
    printFault(missing);
    return 0;
  }
  return withHost(options, async (host) => {
    const listed = await host.handlers['captures.list']({}, neverAborted);
    if (!listed.ok) {
      printFault(listed.fault);
      return 1;
    }
    if (options.json) for (const capture of listed.value) printJson(captureJson(capture));
    else if (listed.value.length === 0) printMessage('The store has no captures.');
    else for (const line of table(listed.value)) print(line);
    return 0;
  });
}

/** A capture for programs, with its keys in the documented order. */
export const captureJson = ({
  id,
  startedAt,
  startUnknown,
  burner,
  status,
  lines,
  readings,
  practice,
}: Pick<
  CaptureSummary,
  'id' | 'startedAt' | 'startUnknown' | 'burner' | 'status' | 'lines' | 'readings' | 'practice'
>): object => ({
  id,
  startedAt,
  burner: burner?.name ?? null,
  status,
  lines,
  readings,
  ...(startUnknown && { startUnknown }),
  ...(practice && { practice }),
});

const table = (captures: CaptureSummary[]): string[] =>
  columns(
    [
      ['id', 'started', 'status', 'lines', 'readings', 'burner'],
      ...captures.map(({ id, startedAt, startUnknown, burner, status, lines, readings, practice }) => [
        id,
        formatStart({ startedAt, startUnknown }, 'not stated'),
        status,
        String(lines),
        String(readings),
        [practice && 'PRACTICE', burner?.name, burner?.site].filter(Boolean).join(', '),
      ]),
    ],
    [3, 4],
  );
