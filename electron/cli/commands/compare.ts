import type { Command } from 'commander';
import { compare } from '../../../shared/analysis/compare/compare.ts';
import { isPractice } from '../../../shared/model/practice-mark.ts';
import { comparisonText, markedName } from '../analysis-output.ts';
import type { Status } from '../output.ts';
import { faultJson, print, printJson, printFault } from '../output.ts';
import { withMapOption } from '../captures/map-option.ts';
import { readCaptureFile } from '../captures/read-capture.ts';

export const describe = (command: Command): Command =>
  withMapOption(command)
    .description(
      'Compares two captures of the same burner and shows which changes are significant. Captures are wide CSV files, data packages (.zip) or package folders.',
    )
    .argument('<before>', 'the earlier capture')
    .argument('<after>', 'the later capture')
    .option('--json', 'print one line of JSON');

/** Prints one result; with --json an `error` in its place when one of the two cannot be used. */
export async function run(before: string, after: string, options: { json?: boolean; map?: string }): Promise<Status> {
  const first = await readCaptureFile(before, { map: options.map });
  const second = await readCaptureFile(after, { map: options.map });
  const comparison = !first.ok ? first : !second.ok ? second : compare(first.value, second.value);
  if (!first.ok) printFault(first.fault);
  if (!second.ok) printFault(second.fault);
  if (!comparison.ok) {
    if (first.ok && second.ok) printFault(comparison.fault);
    if (options.json) printJson({ before, after, error: faultJson(comparison.fault) });
    return 1;
  }
  const { result } = comparison.value;
  const practice = { before: first.ok && isPractice(first.value), after: second.ok && isPractice(second.value) };
  if (options.json) {
    const { schema, ...rest } = result;
    printJson({
      schema,
      files: { before, after },
      ...((practice.before || practice.after) && { practice: true }),
      ...rest,
    });
  } else print(comparisonText(markedName(before, practice.before), markedName(after, practice.after), result));
  return 0;
}
