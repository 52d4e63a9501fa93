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

/**
 * Writes a capture: a wide CSV with its setup and trials beside it, or a data package.
 * Fails with `file-unwritable`.
 */
export async function writeCapture(capture: Capture, out: string): Promise<Outcome<undefined>> {
  switch (captureFormat(out)) {
    case 'zip':
      return writeAtomically(out, writeZip(writeDataPackage(capture)));
    case 'folder':
      return writeFolder(out, writeDataPackage(capture));
    default: {
      const files: [string, string][] = [[out, writeWideCsv(capture)]];
      if (Object.keys(capture.setup).length > 0)
        files.push([companionPath(out, '.setup.json'), writeSetup(capture.setup)]);
      if (capture.trials.length > 0) files.push([companionPath(out, '.trials.csv'), writeTrialsCsv(capture.trials)]);
      for (const [file, text] of files) {
        const written = await writeAtomically(file, text);
        if (!written.ok) return written;
      }
      return ok(undefined);
    }
  }
}
