import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Outcome } from '../../shared/model/outcome.ts';
import { ok } from '../../shared/model/outcome.ts';
import { writeAtomically } from '../host/files/write-whole.ts';
import type { Workbench } from './serve.ts';

/** A page on the disk that leads the browser which opens it to the workbench. */
export interface AddressFile {
  file: string;
  remove(): Promise<void>;
}

/**
 * Keeps a file in the folder of the store that leads to the workbench, for this user alone: all users of this computer see the arguments
 * of a process, so a browser is given the name of this file and never an address. Once its address is used, the file gets a new one, so
 * that it opens one browser after the other for as long as the host runs.
 * Fails with `file-unwritable`.
 */
export async function keepAddressFile(folder: string, { port, newAddress }: Workbench): Promise<Outcome<AddressFile>> {
  // Other programs may serve the same store, on ports of their own.
  const file = join(folder, `open-${port}.html`);
  let isRemoved = false;
  // In a row: a file that is being written is not removed meanwhile. A disk that is full later only costs the next address.
  let writing = write();
  const first = await writing;
  if (!first.ok) return first;
  return ok({
    file,
    async remove() {
      isRemoved = true;
      await writing;
      await rm(file, { force: true });
    },
  });

  function write(): Promise<Outcome<undefined>> {
    const address = newAddress(() => {
      if (!isRemoved) writing = writing.then(write);
    });
    return writeAtomically(file, leadTo(address), { isPrivate: true });
  }
}

// Addresses of ours hold no character that means something in HTML.
const leadTo = (address: string): string => `<!doctype html>
<meta charset="utf-8"><meta name="referrer" content="no-referrer"><title>Pilot Bench</title>
<meta http-equiv="refresh" content="0; url=${address}">
<a href="${address}">Open Pilot Bench</a>
`;
