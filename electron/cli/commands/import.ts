import { basename } from 'node:path';
import type { Command } from 'commander';
import type { ImportedCapture } from '../../../shared/contract/api.ts';
import { writeZip } from '../../../shared/files/data-package.ts';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { ok } from '../../../shared/model/outcome.ts';
import type { Host } from '../../host/host.ts';
import { kindOf, readBytes } from '../captures/files.ts';
import type { Status, FaultText } from '../output.ts';
import { faultJson, print, printJson, printMessage, printFault } from '../output.ts';
import { readPackageFolder } from '../captures/package-folder.ts';
import { mappingOf, withMapOption } from '../captures/map-option.ts';
import { companionPath } from '../captures/read-capture.ts';
import { withHost, neverAborted, withStoreOption } from '../captures/open-store.ts';
import type { StoreOptions } from '../captures/open-store.ts';

interface FileToImport {
  name: string;
  bytes: Uint8Array;
  mapping?: Mapping;
}

export const describe = (command: Command): Command =>
  withMapOption(withStoreOption(command))
    .description('Adds captures to the store. A capture that the store already has is not added again.')
    .argument('<file...>', 'wide CSV (with setup and trials beside it), data package (.zip) or package folder')
    .option('--json', 'print one line of JSON per file, in the order given');

export const run = (files: string[], options: StoreOptions & { json?: boolean; map?: string }): Promise<Status> =>
  withHost(options, async (host) => {
    let status: Status = 0;
    for (const file of files) {
      const { captures, problems } = await importFile(host, file, options.map);
      for (const problem of problems) {
        status = 1;
        printFault(problem);
        if (options.json) printJson({ file, error: faultJson(problem) });
      }
      for (const { taken, notices, ...capture } of captures) {
        if (taken !== undefined) printMessage(taken);
        for (const notice of notices ?? []) printMessage(notice);
        const { id, added } = capture;
        if (options.json) printJson({ file, ...capture, ...(notices && { notices }) });
        else print(`${file}: ${id} ${added ? 'added' : 'is already in the store'}`);
      }
    }
    return status;
  });

interface ImportResult {
  captures: ImportedCapture[];
  problems: FaultText[];
}

/** Imports one file with its setup and trials. */
async function importFile(host: Host, file: string, map: string | undefined): Promise<ImportResult> {
  const mapping = map === undefined ? undefined : await mappingOf(map);
  if (mapping && !mapping.ok) return { captures: [], problems: [mapping.fault] };
  const files = await filesOf(file, mapping && (mapping.value ?? {}));
  if (!files.ok) return { captures: [], problems: [files.fault] };
  const imported = await host.handlers['files.import']({ files: files.value }, neverAborted);
  if (!imported.ok) return { captures: [], problems: [imported.fault] };
  const { captures, problems, foreign = [] } = imported.value;
  return { captures, problems: [...problems, ...foreign.map(({ fault }) => fault)] };
}

/** The file with its companions; another logger's has the mapping by which it is read, which says nothing where all is to be guessed. */
async function filesOf(file: string, mapping: Mapping | undefined): Promise<Outcome<FileToImport[]>> {
  const kind = await kindOf(file);
  if (!kind.ok) return kind;
  if (kind.value === 'folder') {
    const entries = await readPackageFolder(file);
    // With the name as it was given, for messages.
    return entries.ok ? ok([{ name: file, bytes: writeZip(entries.value) }]) : entries;
  }
  const bytes = await readBytes(file);
  if (!bytes.ok) return bytes;
  const files: FileToImport[] = [{ name: basename(file), bytes: bytes.value, ...(mapping && { mapping }) }];
  for (const path of [companionPath(file, '.setup.json'), companionPath(file, '.trials.csv')]) {
    const companion = await readBytes(path);
    if (companion.ok) files.push({ name: basename(path), bytes: companion.value });
    else if (companion.fault.code !== 'file-missing') return companion;
  }
  return ok(files);
}
