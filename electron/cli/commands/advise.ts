import type { Command } from 'commander';
import { adviseCapture } from '../../../shared/advice/advise-capture.ts';
import { delayCaution, trialCaution } from '../../../shared/advice/words.ts';
import type { CaptureAdvice } from '../../../shared/model/results/advice.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { fault } from '../../../shared/model/faults.ts';
import { formatMargin, formatPressure, formatSpark } from '../../../shared/model/format.ts';
import { fail } from '../../../shared/model/outcome.ts';
import { isPractice } from '../../../shared/model/practice-mark.ts';
import { fileFault, markedName } from '../analysis-output.ts';
import { storeOnDemand, type StoreOptions, withStoreOption } from '../captures/open-store.ts';
import type { Companions } from '../captures/read-capture.ts';
import { fileOrCapture } from '../captures/store-capture.ts';
import type { Status } from '../output.ts';
import { print, printBug, printFault, printJson } from '../output.ts';

interface Options extends Companions, StoreOptions {
  json?: boolean;
}

export const describe = (command: Command): Command =>
  withStoreOption(command)
    .description(
      "Names the next light-off trial of a visit: first those of the plan at the setting, then outward from it by the step that proves the most margin. Never outside the maker's range, the agreed limits (trialLimits of the setup), the sweep or the window; nothing without a range or limits.",
    )
    .argument('<file-or-capture>', 'wide CSV, data package (.zip or folder), or the id of a capture in the store')
    .option('--setup <file>', 'setup to use instead of the one beside the file')
    .option('--trials <file>', 'light-off trials to use instead of those beside the file')
    .option('--json', 'print one line of JSON');

/** Prints the advice; a capture that cannot be used gives its fault. */
export async function run(source: string, options: Options): Promise<Status> {
  const store = storeOnDemand(options);
  try {
    const capture = await fileOrCapture(source, options, store.open);
    const advice = capture.ok ? adviseOne(source, capture.value) : capture;
    if (!advice.ok) {
      const { code, message } = fileFault(source, advice.fault);
      printFault({ code, message });
      if (options.json) printJson({ file: source, error: { code, message } });
      return 1;
    }
    const practice = capture.ok && isPractice(capture.value);
    if (options.json) printJson(adviceJson(source, advice.value, practice));
    else print(adviceText(markedName(source, practice), advice.value));
    return 0;
  } finally {
    await store.close();
  }
}

function adviseOne(source: string, capture: Capture): ReturnType<typeof adviseCapture> {
  try {
    return adviseCapture(capture);
  } catch (error) {
    printBug(` (advice on ${source})`, error);
    return fail(fault('internal', { what: 'the advice' }));
  }
}

/** `pilot-bench/advice@1`. */
const adviceJson = (file: string, advice: CaptureAdvice, practice: boolean): object => ({
  schema: 'pilot-bench/advice@1',
  file,
  ...(practice && { practice }),
  pressureUnit: advice.pressureUnit,
  next: advice.next,
  stop: advice.stop,
  reason: advice.reason,
  proof: { ...advice.proof, message: advice.proved },
  shown: advice.shown,
  candidates: advice.candidates,
  notes: advice.notes,
});

/** The advice for people, in whole sentences. */
function adviceText(file: string, advice: CaptureAdvice): string {
  const { next, reason, proved, notes, candidates, pressureUnit: unit } = advice;
  const others = candidates.filter(({ pressure }) => pressure !== next?.pressure);
  const lines = [
    next
      ? `Next trial: at ${formatPressure(next.pressure, unit)}, spark ${formatSpark(next.sparkDelay_s)}.`
      : 'No further trial is advised.',
    reason,
    ...(next ? [trialCaution] : []),
    ...(next && next.sparkDelay_s > 0 ? [delayCaution] : []),
    proved,
    ...notes,
    ...others.map(
      ({ pressure, gain }) =>
        `Also possible: ${formatPressure(pressure, unit)}, expected to prove ${formatMargin(gain, unit)} more margin.`,
    ),
  ];
  return [file, ...lines.map((line) => `  ${line}`), ''].join('\n');
}
