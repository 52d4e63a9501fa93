import { extname } from 'node:path';
import { writeDataPackage, writeZip } from '../../../shared/files/data-package.ts';
import { writeSetup } from '../../../shared/files/setup-file.ts';
import { writeTrialsCsv } from '../../../shared/files/trials-csv.ts';
import { writeWideCsv } from '../../../shared/files/wide-csv.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { writeAtomically } from '../../host/files/write-whole.ts';
import { writeFolder } from './files.ts';
import { CallError } from '../output.ts';
import { checkBeside, checkOutputFiles, checkOutputFolder, type Overwriting } from './check-output.ts';
import { companionPath } from './read-capture.ts';

export type CaptureFormat = 'csv' | 'zip' | 'folder';

/** The format by the file name: `.csv`, `.zip`, or no extension for a package folder. Throws `CallError` for any other. */
export function captureFormat(out: string): CaptureFormat {
  switch (extname(out).toLowerCase()) {
    case '.csv':
      return 'csv';
    case '.zip':
      return 'zip';
    case '':
      return 'folder';
    default:
      throw new CallError(`${out} must end in .csv or .zip (data package), or have no extension (package folder)`);
  }
}

/** What stands beside a CSV and is read with it. */
const companionSuffixes = ['.setup.json', '.trials.csv'] as const;

/**
 * Checks before any work whether a capture may be written at `out`, with what stands beside a CSV.
 * Fails with `file-exists`, `file-beside` or `file-unwritable`; throws CallError when the name says no format.
 */
export async function checkCaptureOutput(out: string, overwriting: Overwriting): Promise<Outcome<undefined>> {
  switch (captureFormat(out)) {
    case 'folder':
      return checkOutputFolder(out, overwriting);
    case 'zip':
      return checkOutputFiles([out], overwriting);
    default: {
      const beside = companionSuffixes.map((suffix) => companionPath(out, suffix));
      if (overwriting.force) return checkOutputFiles([out, ...beside], overwriting);
      const free = await checkOutputFiles([out], overwriting);
      return free.ok ? checkBeside(out, beside) : free;
    }
  }
}

/**
 * Writes a capture: a wide CSV with its setup and trials beside it, or a data package. Checks again what is there, for what belongs
 * beside it is known only now.
 * Fails with `file-exists`, `file-beside` or `file-unwritable`.
 */
export async function writeCapture(
  capture: Capture,
  out: string,
  overwriting: Overwriting,
): Promise<Outcome<undefined>> {
  switch (captureFormat(out)) {
    case 'zip': {
      const free = await checkCaptureOutput(out, overwriting);
      return free.ok ? writeAtomically(out, writeZip(writeDataPackage(capture))) : free;
    }
    case 'folder': {
      const entries = writeDataPackage(capture);
      const free = await checkOutputFolder(out, overwriting, [...entries.keys()]);
      return free.ok ? writeFolder(out, entries) : free;
    }
    default:
      return writeCsv(capture, out, overwriting);
  }
}

async function writeCsv(capture: Capture, out: string, overwriting: Overwriting): Promise<Outcome<undefined>> {
  const { setup, trials } = capture;
  const companions: [suffix: (typeof companionSuffixes)[number], text: string | undefined][] = [
    ['.setup.json', Object.keys(setup).length > 0 ? writeSetup(setup) : undefined],
    ['.trials.csv', trials.length > 0 ? writeTrialsCsv(trials) : undefined],
  ];
  const files: [file: string, text: string][] = [[out, writeWideCsv(capture)]];
  const others: string[] = [];
  for (const [suffix, text] of companions)
    if (text === undefined) others.push(companionPath(out, suffix));
    else files.push([companionPath(out, suffix), text]);
  const free = await checkOutputFiles(
    files.map(([file]) => file),
    overwriting,
  );
  if (!free.ok) return free;
  // An older file that is not replaced would be read with the new ones, whatever may be overwritten.
  const alone = await checkBeside(out, others);
  if (!alone.ok) return alone;
  for (const [file, text] of files) {
    const written = await writeAtomically(file, text);
    if (!written.ok) return written;
  }
  return ok(undefined);
}
