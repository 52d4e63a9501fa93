import { resolve } from 'node:path';
import type { Command } from 'commander';
import type { Status } from '../output.ts';
import { CallError, reportWritten } from '../output.ts';
import { withMapOption } from '../captures/map-option.ts';
import { readCaptureFile } from '../captures/read-capture.ts';
import type { Companions } from '../captures/read-capture.ts';
import { forceOption, type Overwriting } from '../captures/check-output.ts';
import { checkCaptureOutput, writeCapture } from '../captures/write-capture.ts';

export const describe = (command: Command): Command =>
  withMapOption(command)
    .description('Converts wide CSV to a data package and back, without the store.')
    .argument('<in>', 'wide CSV, data package (.zip) or package folder')
    .argument('<out>', 'file to write: .csv (with setup and trials beside it), .zip, or a package folder')
    .option('--setup <file>', 'setup to use instead of the one beside the file')
    .option('--trials <file>', 'light-off trials to use instead of those beside the file')
    .option(...forceOption);

export async function run(from: string, out: string, options: Companions & Overwriting): Promise<Status> {
  if (resolve(from) === resolve(out))
    throw new CallError('IN and OUT are the same file; the original is not overwritten');
  const free = await checkCaptureOutput(out, options);
  if (!free.ok) return reportWritten(free, out);
  const capture = await readCaptureFile(from, options);
  return reportWritten(capture.ok ? await writeCapture(capture.value, out, options) : capture, out);
}
