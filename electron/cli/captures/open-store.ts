import { existsSync } from 'node:fs';
import { InvalidArgumentError } from 'commander';
import type { Command } from 'commander';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { dataFolder } from '../../host/files/data-folder.ts';
import type { Host, HostOptions } from '../../host/host.ts';
import { storeFile } from '../../host/store/store-file.ts';
import { sayBug, sayFault } from '../output.ts';
import type { Status } from '../output.ts';
import { version } from '../program-files.ts';

export interface StoreOptions {
  data?: string;
}

/** `--data DIR`, for every command that uses the store. */
export const withStore = (command: Command): Command =>
  command.option(
    '--data <dir>',
    'folder of the store (default: PILOT_BENCH_DATA, else the user-data folder)',
    (folder: string) => {
      // Most likely a variable of a script that is not set: the user's own store is not meant.
      if (folder.trim() === '') throw new InvalidArgumentError('--data takes the name of a folder.');
      return folder;
    },
  );

/** `store-missing` where there is no store, so that commands that only read one need not make it; undefined where there is. */
export function missingStore({ data }: StoreOptions): Fault | undefined {
  const folder = dataFolder(data);
  return existsSync(storeFile(folder)) ? undefined : fault('store-missing', { folder });
}

/** What `--allow-network` means, for every command that has it. */
export const allowNetworkSays =
  'also use meters on the network, given as tcp://host:port; polls are then sent over it. It leaves this computer';

/** A signal that never fires: what a command asks of the host, it waits for. */
export const untilDone = new AbortController().signal;

/** Where bugs of the host are told; the one who asked only hears `internal`. */
export const onBug = (name: string, error: unknown): void => sayBug(` (${name})`, error);

/**
 * The host on the store of these options. Who opens it closes it. The heavy modules are loaded only now.
 * @param as  `browser` for the workbench, `command` for everything without a face
 * @param more  what else the host is to be: see `HostOptions`
 */
export async function openHost(
  { data }: StoreOptions,
  as: 'browser' | 'command' = 'command',
  more: Pick<HostOptions, 'allowNetwork' | 'holdsBack'> & { practice?: boolean } = {},
): Promise<Outcome<Host>> {
  const { createHost } = await import('../../host/host.ts');
  return createHost({
    dataFolder: dataFolder(data),
    version,
    host: as,
    practice: false,
    ...more,
    onBug,
  });
}

/** Opens the host, works on it, and closes it whatever happens. */
export async function onStore(options: StoreOptions, work: (host: Host) => Promise<Status>): Promise<Status> {
  const host = await openHost(options);
  if (!host.ok) {
    sayFault(host.fault);
    return 1;
  }
  try {
    return await work(host.value);
  } finally {
    const unsaved = await host.value.close();
    if (unsaved) sayFault(unsaved);
  }
}
