import { existsSync } from 'node:fs';
import { InvalidArgumentError } from 'commander';
import type { Command } from 'commander';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail, ok, type Outcome } from '../../../shared/model/outcome.ts';
import { dataFolder } from '../../host/files/data-folder.ts';
import type { Host, HostOptions } from '../../host/host.ts';
import { storeFile } from '../../host/store/store-file.ts';
import { printBug, printFault } from '../output.ts';
import type { Status } from '../output.ts';
import { version } from '../program-files.ts';

export interface StoreOptions {
  data?: string;
}

/** `--data DIR`, for every command that uses the store. */
export const withStoreOption = (command: Command): Command =>
  command.option(
    '--data <dir>',
    'folder of the store (default: PILOT_BENCH_DATA, else the user-data folder)',
    (folder: string) => {
      // Most likely an unset variable of a script: the user's default store is not meant.
      if (folder.trim() === '') throw new InvalidArgumentError('--data takes the name of a folder.');
      return folder;
    },
  );

/** `store-missing` where there is no store, so that commands that only read one do not create it; undefined where there is. */
export function missingStore({ data }: StoreOptions): Fault | undefined {
  const folder = dataFolder(data);
  return existsSync(storeFile(folder)) ? undefined : fault('store-missing', { folder });
}

/** The help of `--allow-network`, for every command that has it. */
export const allowNetworkHelp =
  'also use meters on the network, given as tcp://host:port; their readings and polls then leave this computer';

/** A signal that never fires, for calls that a command never cancels. */
export const neverAborted = new AbortController().signal;

/** Prints bugs of the host; the caller only gets `internal`. */
export const onBug = (name: string, error: unknown): void => printBug(` (${name})`, error);

let startProcess: HostOptions['startProcess'];
/** How the host starts its processes from now on, where the program is not plain Node. */
export function startProcessesBy(start: HostOptions['startProcess']): void {
  startProcess = start;
}

/**
 * Opens the host on the store of these options; the caller closes it. Its modules, which take time to load, are loaded only now.
 * Fails with `store-damaged`, `store-newer` or `store-unavailable`.
 * @param kind  `browser` for the workbench, `command` for everything without a page
 * @param more  further `HostOptions`
 */
export async function openHost(
  { data }: StoreOptions,
  kind: 'browser' | 'command' = 'command',
  more: Pick<HostOptions, 'allowNetwork' | 'buffersBeforeStart'> & { practice?: boolean } = {},
): Promise<Outcome<Host>> {
  const { createHost } = await import('../../host/host.ts');
  return createHost({
    dataFolder: dataFolder(data),
    version,
    host: kind,
    practice: false,
    ...more,
    ...(startProcess && { startProcess }),
    onBug,
  });
}

/** Opens the host, works with it, and closes it in any case; gives the exit status. */
export async function withHost(options: StoreOptions, work: (host: Host) => Promise<Status>): Promise<Status> {
  const host = await openHost(options);
  if (!host.ok) {
    printFault(host.fault);
    return 1;
  }
  try {
    return await work(host.value);
  } finally {
    const closeFault = await host.value.close();
    if (closeFault) printFault(closeFault);
  }
}

/** A store that is opened when it is first asked for, and only where there is one already; `close` closes it if it was. */
export function storeOnDemand(options: StoreOptions): {
  open: () => Promise<Outcome<Host>>;
  close: () => Promise<void>;
} {
  let host: Host | undefined;
  return {
    open: async () => {
      if (host) return ok(host);
      const missing = missingStore(options);
      if (missing) return fail(missing);
      const opened = await openHost(options);
      if (opened.ok) host = opened.value;
      return opened;
    },
    close: async () => {
      await host?.close();
    },
  };
}
