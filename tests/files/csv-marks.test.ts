import { expect, it } from 'vitest';
import { analyze } from '../../shared/analysis/analyze.ts';
import { readWideCsv, writeWideCsv } from '../../shared/files/wide-csv.ts';
import { writeSetup } from '../../shared/files/setup-file.ts';
import { writeTrialsCsv } from '../../shared/files/trials-csv.ts';
import type { Capture, Mark } from '../../shared/model/capture.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';
import { drawSweep } from '../benchmark/sweep/kinds.ts';

const { capture: drawn } = drawSweep('two shoulders', 3);
const endS = drawn.readings.at(-1)!.elapsedS;
/** The first half was thrown out, the second counts. */
const marks: Mark[] = [
  { elapsedS: 0.25, kind: 'sweep-start', text: '' },
  { elapsedS: endS / 4, kind: 'sweep-end', text: '' },
  { elapsedS: endS / 4 + 1, kind: 'sweep-void', text: 'wrong, "burner"; 1.5 %\nµ \ud83d\ude00' },
  { elapsedS: endS / 4 + 2, kind: 'sweep-start', text: '' },
  { elapsedS: endS, kind: 'sweep-end', text: '' },
];
const capture: Capture = { ...drawn, marks };

function throughCsv(given: Capture, change = (text: string) => text): Capture {
  const read = readWideCsv({
    file: 'visit.csv',
    text: change(writeWideCsv(given)),
    setup: { file: 'visit.setup.json', text: writeSetup(given.setup) },
    ...(given.trials.length > 0 && { trials: { file: 'visit.trials.csv', text: writeTrialsCsv(given.trials) } }),
  });
  if (!read.ok) throw new Error(read.fault.message);
  return read.value.capture;
}

it('a wide CSV gives the marks back as they were', () => {
  expect(throughCsv(capture).marks).toEqual(marks);
  // As spreadsheets save it: padded with separators, and with their line ends.
  const padded = (text: string) => text.replace(/^(#.*)$/gmu, '$1,,').replaceAll('\n', '\r\n');
  expect(throughCsv(capture, padded).marks).toEqual(marks);
});

it('the analysis of an exported CSV is that of the capture, discarded sweeps left out', () => {
  const [own, exported, unmarked] = [capture, throughCsv(capture), drawn].map((each) => analyze(each));
  if (!own!.ok || !exported!.ok || !unmarked!.ok) throw new Error('refused');
  expect(exported!.value.result).toEqual(own!.value.result);
  expect(own!.value.result.window).not.toEqual(unmarked!.value.result.window);
});

it.each(['clean', 'flame-lost'])(
  'the analysis of a whole practice visit, exported as CSV, is that of the capture: %s',
  (scenario) => {
    const visit = simulateVisit(scenario, 5).capture;
    const [own, exported] = [visit, throughCsv(visit)].map((each) => analyze(each));
    if (!own!.ok || !exported!.ok) throw new Error('refused');
    expect(exported!.value.result).toEqual(own!.value.result);
  },
  30_000,
);

it('a comment that is no mark line is none', () => {
  const text = '# mark: soon note\n# mark: 1 no-kind\n# mark: 2 note %E0%A4%A\n# remark: 3 note\n';
  expect(throughCsv({ ...drawn, marks: [] }, (csv) => text + csv).marks).toEqual([]);
});
