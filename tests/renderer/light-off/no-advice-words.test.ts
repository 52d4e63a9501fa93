import { expect, it } from 'vitest';
import { noAdviceWords } from '../../../renderer/light-off/no-advice-words.ts';
import { isAdvisable, knownMeanwhile } from '../../../renderer/light-off/plan-words.ts';
import { fault } from '../../../shared/model/faults.ts';

const swept = [
  { kind: 'sweep-start' as const, elapsedS: 10, text: '' },
  { kind: 'sweep-end' as const, elapsedS: 90, text: '' },
];
const died = fault('job-process-ended', { what: 'The calculation of the next trial', reason: 'signal SIGKILL' });
const refused = fault('trial-unknown');

it('a calculation that died is not said to show no window, and can be asked for again', () => {
  for (const status of ['recording', 'complete'] as const)
    expect(noAdviceWords(died, { status })).toMatch(/^The next trial is not known\..*twice.*Recalculate tries/u);
});

it('nothing is calculated before there is a sweep that counts, which is said instead', () => {
  const discarded = [...swept, { kind: 'sweep-void' as const, elapsedS: 95, text: 'wrong burner' }];
  for (const marks of [[], discarded]) {
    expect(isAdvisable({ status: 'recording', marks })).toBe(false);
    expect(knownMeanwhile({ marks, setup: {}, trials: [] })).toEqual(['A sweep has to find the window first.']);
  }
  expect(isAdvisable({ status: 'recording', marks: swept })).toBe(true);
  expect(noAdviceWords(refused, { status: 'recording' })).toMatch(/^The sweep shows no window/u);
  // A file need not say where its sweeps are.
  expect(isAdvisable({ status: 'complete', marks: [] })).toBe(true);
});
