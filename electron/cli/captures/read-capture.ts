import { basename, dirname, join } from 'node:path';
import { companionName } from '../../../shared/files/companion-name.ts';
import { readDataPackage, readZip } from '../../../shared/files/data-package.ts';
import { readSetup } from '../../../shared/files/setup-file.ts';
import { readTrialsCsv } from '../../../shared/files/trials-csv.ts';
import { readLoggerFile, type TakenAs } from '../../../shared/files/logger/read-logger-file.ts';
import { readWideCsv } from '../../../shared/files/wide-csv.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { kindOf, readBytes, readText } from './files.ts';
import { localOffsetMin } from '../../host/clock.ts';
import { cellsIn, memoryFault, rowsIn } from '../../host/files/memory-limit.ts';
import { printMessage } from '../output.ts';
import { mappingOf } from './map-option.ts';
import { readPackageFolder } from './package-folder.ts';

/** Files to use instead of those beside a CSV or inside a package, and how to read another logger's file. */
export interface Companions {
  setup?: string;
  trials?: string;
  /** `auto` or the file of a mapping: the file is another logger's. */
  map?: string;
}

/**
 * The capture in a file: a wide CSV with its companions, a data package as .zip, or a package folder; recognized by its content, not
 * by its name. Prints notices about what was left out. Fails with the faults of reading files, CSV, packages, setup and trials.
 */
export async function readCaptureFile(file: string, companions: Companions = {}): Promise<Outcome<Capture>> {
  const kind = await kindOf(file);
  if (!kind.ok) return kind;
  const read = kind.value === 'folder' ? await readFolder(file) : await readOneFile(file, companions);
  const result = read.ok && read.value.isPackage ? await replaceCompanions(read.value, companions) : read;
  if (!result.ok) return result;
  const stem = basename(file).replace(/\.\w+$/u, '');
  for (const notice of result.value.notices) printMessage(notice.includes(stem) ? notice : `${file}: ${notice}`);
  return ok(result.value.capture);
}

/** A capture as it was read. `isPackage`: its setup and trials are inside the file. */
interface ReadResult {
  capture: Capture;
  notices: string[];
  isPackage: boolean;
}

async function readFolder(folder: string): Promise<Outcome<ReadResult>> {
  const entries = await readPackageFolder(folder);
  return entries.ok ? readPackage(folder, entries.value) : entries;
}

function readPackage(file: string, entries: Map<string, Uint8Array>): Outcome<ReadResult> {
  const large = memoryFault(file, rowsIn(entries));
  if (large) return fail(large);
  const read = readDataPackage({ file, entries });
  return read.ok ? ok({ ...read.value, isPackage: true }) : read;
}

async function readOneFile(file: string, companions: Companions): Promise<Outcome<ReadResult>> {
  const bytes = await readBytes(file);
  if (!bytes.ok) return bytes;
  if (isZip(bytes.value)) {
    const entries = readZip(bytes.value, file);
    return entries.ok ? readPackage(file, entries.value) : entries;
  }
  // Text has no NUL bytes: a file with some is of another kind.
  if (companions.map === undefined && bytes.value.includes(0))
    return fail(fault('file-kind-unknown', { file, map: true }));
  const large = memoryFault(file, cellsIn(bytes.value));
  if (large) return fail(large);

  const setup = await companion(companions.setup, companionPath(file, '.setup.json'));
  if (!setup.ok) return setup;
  const trials = await companion(companions.trials, companionPath(file, '.trials.csv'));
  if (!trials.ok) return trials;
  const beside = { file, setup: setup.value, trials: trials.value };
  const mapping = companions.map === undefined ? undefined : await mappingOf(companions.map);
  if (mapping && !mapping.ok) return mapping;
  const read: Outcome<{ capture: Capture; notices: string[]; logger?: TakenAs }> = mapping
    ? readLoggerFile({ ...beside, bytes: bytes.value, mapping: mapping.value, offsetAt: localOffsetMin })
    : readWideCsv({ ...beside, text: new TextDecoder().decode(bytes.value) });
  if (!read.ok) return read;
  const { capture, notices, logger } = read.value;
  return ok({ capture, notices: [...(logger ? [logger.taken] : []), ...notices], isPackage: false });
}

/** The capture with setup and trials from the given files instead of its own. */
async function replaceCompanions(
  { capture, notices, isPackage }: ReadResult,
  companions: Companions,
): Promise<Outcome<ReadResult>> {
  const setupText = companions.setup === undefined ? undefined : await readText(companions.setup);
  if (setupText && !setupText.ok) return setupText;
  const setup = setupText && readSetup({ file: companions.setup ?? '', text: setupText.value });
  if (setup && !setup.ok) return setup;
  const trialsText = companions.trials === undefined ? undefined : await readText(companions.trials);
  if (trialsText && !trialsText.ok) return trialsText;
  const trials = trialsText && readTrialsCsv({ file: companions.trials ?? '', text: trialsText.value });
  if (trials && !trials.ok) return trials;
  return ok({
    capture: { ...capture, ...(setup && { setup: setup.value.setup }), ...(trials && { trials: trials.value }) },
    notices: [...notices, ...(setup?.value.notices ?? [])],
    isPackage,
  });
}

/** A zip begins with a local file header or, when it is empty, with the end record. */
const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && ((bytes[2] === 3 && bytes[3] === 4) || (bytes[2] === 5 && bytes[3] === 6));

/** The path of the file that belongs to another, in the same folder. */
export const companionPath = (file: string, suffix: '.setup.json' | '.trials.csv'): string =>
  join(dirname(file), companionName(basename(file), suffix));

/** The given companion, which must exist; else the one beside the file, if it exists. */
async function companion(
  given: string | undefined,
  usual: string,
): Promise<Outcome<{ file: string; text: string } | undefined>> {
  const file = given ?? usual;
  const text = await readText(file);
  if (text.ok) return ok({ file, text: text.value });
  return given === undefined && text.fault.code === 'file-missing' ? ok(undefined) : text;
}
