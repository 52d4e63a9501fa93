import { basename } from 'node:path';
import type { Command } from 'commander';
import type { ImportedCapture } from '../../../shared/contract/api.ts';
import { writeZip } from '../../../shared/files/data-package.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { ok } from '../../../shared/model/outcome.ts';
import type { Host } from '../../host/host.ts';
import { kindOf, readBytes } from '../captures/files.ts';
import type { Status, Told } from '../output.ts';
import { faultJson, print, printJson, say, sayFault } from '../output.ts';
import { readPackageFolder } from '../captures/package-folder.ts';
import { siblingOf } from '../captures/read-capture.ts';
import { onStore, untilDone, withStore } from '../captures/open-store.ts';
import type { StoreOptions } from '../captures/open-store.ts';

interface NamedBytes {
  name: string;
  bytes: Uint8Array;
}

export const describe = (command: Command): Command =>
  withStore(command)
    .description('Takes captures into the store. What is there already is not added again.')
    .argument('<file...>', 'wide CSV (with setup and trials beside it), data package (.zip) or package folder')
    .option('--json', 'one line of JSON per file, in the order given');

export const run = (files: string[], options: StoreOptions & { json?: boolean }): Promise<Status> =>
  onStore(options, async (host) => {
    let status: Status = 0;
    for (const file of files) {
      const { captures, problems } = await takeIn(host, file);
      for (const problem of problems) {
        status = 1;
        sayFault(problem);
        if (options.json) printJson({ file, error: faultJson(problem) });
      }
      for (const { id, added, differs, notices } of captures) {
        for (const notice of notices ?? []) say(notice);
        if (options.json) printJson({ file, id, added, ...(differs && { differs }), ...(notices && { notices }) });
        else print(`${file}: ${id} ${added ? 'added' : 'is in the store already'}`);
      }
    }
    return status;
  });

interface Taken {
  captures: ImportedCapture[];
  problems: Told[];
}

/** One file with what belongs to it. */
async function takeIn(host: Host, file: string): Promise<Taken> {
  const named = await filesOf(file);
  if (!named.ok) return { captures: [], problems: [named.fault] };
  const taken = await host.handlers['files.import']({ files: named.value }, untilDone);
  return taken.ok ? taken.value : { captures: [], problems: [taken.fault] };
}

async function filesOf(file: string): Promise<Outcome<NamedBytes[]>> {
  const kind = await kindOf(file);
  if (!kind.ok) return kind;
  if (kind.value === 'folder') {
    const entries = await readPackageFolder(file);
    // Named as it was given, for the sentences about it.
    return entries.ok ? ok([{ name: file, bytes: writeZip(entries.value) }]) : entries;
  }
  const bytes = await readBytes(file);
  if (!bytes.ok) return bytes;
  const named = [{ name: basename(file), bytes: bytes.value }];
  for (const beside of [siblingOf(file, '.setup.json'), siblingOf(file, '.trials.csv')]) {
    const companion = await readBytes(beside);
    if (companion.ok) named.push({ name: basename(beside), bytes: companion.value });
    else if (companion.fault.code !== 'file-missing') return companion;
  }
  return ok(named);
}
