import type { Command } from 'commander';
import { analyze } from '../../../shared/analysis/analyze.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail } from '../../../shared/model/outcome.ts';
import { isPractice } from '../../../shared/model/practice-mark.ts';
import { fileFault, markedName, resultJson, resultText } from '../analysis-output.ts';
import type { Status } from '../output.ts';
import { print, printJson, printBug, printFault } from '../output.ts';
import { withMapOption } from '../captures/map-option.ts';
import { readCaptureFile } from '../captures/read-capture.ts';
import type { Companions } from '../captures/read-capture.ts';

interface Options extends Companions {
  json?: boolean;
}

export const describe = (command: Command): Command =>
  withMapOption(command)
    .description(
      'Analyzes captures: wide CSV files, data packages (.zip) or package folders. NAME.setup.json and NAME.trials.csv beside NAME.csv are used when they exist.',
    )
    .argument('<file...>', 'captures')
    .option('--setup <file>', 'setup to use instead of the one beside the file')
    .option('--trials <file>', 'light-off trials to use instead of those beside the file')
    .option('--json', 'print one line of JSON per file, in the order given');

/** The analysis of one file; a bug in it must not stop the others. */
function analyzeOne(file: string, capture: Capture): ReturnType<typeof analyze> {
  try {
    return analyze(capture);
  } catch (error) {
    printBug(` (analysis of ${file})`, error);
    return fail(fault('internal', { what: 'the analysis' }));
  }
}

/** Prints one result per file, in the order given; a file that cannot be used does not stop the others. */
export async function run(files: string[], options: Options): Promise<Status> {
  let status: Status = 0;
  for (const file of files) {
    // `analyze *.csv` also lists the trials files; they are read with their capture and are no captures themselves.
    if (files.includes(file.replace(/\.trials\.csv$/iu, '.csv')) && /\.trials\.csv$/iu.test(file)) continue;
    const capture = await readCaptureFile(file, options);
    const analysis = capture.ok ? analyzeOne(file, capture.value) : capture;
    const practice = capture.ok && isPractice(capture.value);
    if (!analysis.ok) {
      status = 1;
      const fault = fileFault(file, analysis.fault);
      printFault(fault);
      if (options.json) printJson({ file, error: { code: fault.code, message: fault.message } });
    } else if (options.json) printJson(resultJson(file, analysis.value.result, practice));
    else print(resultText(markedName(file, practice), analysis.value.result));
  }
  return status;
}
