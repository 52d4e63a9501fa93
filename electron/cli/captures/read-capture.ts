import { basename, dirname, join } from 'node:path';
import { readDataPackage, readZip } from '../../../shared/files/data-package.ts';
import { readSetup } from '../../../shared/files/setup-file.ts';
import { readTrialsCsv } from '../../../shared/files/trials-csv.ts';
import { readWideCsv } from '../../../shared/files/wide-csv.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { kindOf, readBytes, readText } from './files.ts';
import { say } from '../output.ts';
import { readPackageFolder } from './package-folder.ts';

/** Files that win over those beside a CSV and over what a package holds. */
export interface Companions {
  setup?: string;
  trials?: string;
}

/**
 * The capture in a file: a wide CSV with its companions, a data package as .zip, or a package folder. Told by what is in
 * it, not by its name. What was kept aside is said on standard error.
 */
export async function readCaptureFile(file: string, companions: Companions = {}): Promise<Outcome<Capture>> {
  const kind = await kindOf(file);
  if (!kind.ok) return kind;
  const read = kind.value === 'folder' ? await readFolder(file) : await readOneFile(file, companions);
  const whole = read.ok && read.value.packed ? await putInPlace(read.value, companions) : read;
  if (!whole.ok) return whole;
  const stem = basename(file).replace(/\.\w+$/u, '');
  for (const notice of whole.value.notices) say(notice.includes(stem) ? notice : `${file}: ${notice}`);
  return ok(whole.value.capture);
}

/** What was read; `packed` when setup and trials are part of the file itself. */
interface Read {
  capture: Capture;
  notices: string[];
  packed: boolean;
}

async function readFolder(folder: string): Promise<Outcome<Read>> {
  const entries = await readPackageFolder(folder);
  return entries.ok ? readPackage(folder, entries.value) : entries;
}

function readPackage(file: string, entries: Map<string, Uint8Array>): Outcome<Read> {
  const read = readDataPackage({ file, entries });
  return read.ok ? ok({ ...read.value, packed: true }) : read;
}

async function readOneFile(file: string, companions: Companions): Promise<Outcome<Read>> {
  const bytes = await readBytes(file);
  if (!bytes.ok) return bytes;
  if (isZip(bytes.value)) {
    const entries = readZip(bytes.value, file);
    return entries.ok ? readPackage(file, entries.value) : entries;
  }
  // Text holds no NUL; what does is some other kind of file.
  if (bytes.value.includes(0)) return fail(fault('file-kind-unknown', { file }));

  const setup = await companion(companions.setup, siblingOf(file, '.setup.json'));
  if (!setup.ok) return setup;
  const trials = await companion(companions.trials, siblingOf(file, '.trials.csv'));
  if (!trials.ok) return trials;
  const text = new TextDecoder().decode(bytes.value);
  const read = readWideCsv({ file, text, setup: setup.value, trials: trials.value });
  return read.ok ? ok({ ...read.value, packed: false }) : read;
}

/** The capture with setup and trials of the named files instead of its own. */
async function putInPlace({ capture, notices, packed }: Read, companions: Companions): Promise<Outcome<Read>> {
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
    packed,
  });
}

/** A zip begins with a local file header, or with the end record when it is empty. */
const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && ((bytes[2] === 3 && bytes[3] === 4) || (bytes[2] === 5 && bytes[3] === 6));

/** `NAME.csv` gives `NAME.setup.json` in the same folder. */
export const siblingOf = (file: string, ending: string): string =>
  join(dirname(file), basename(file).replace(/\.csv$/iu, '') + ending);

/** The companion that was named, which must be there; else the one beside the file, when there is one. */
async function companion(
  named: string | undefined,
  beside: string,
): Promise<Outcome<{ file: string; text: string } | undefined>> {
  const file = named ?? beside;
  const text = await readText(file);
  if (text.ok) return ok({ file, text: text.value });
  return named === undefined && text.fault.code === 'file-missing' ? ok(undefined) : text;
}
