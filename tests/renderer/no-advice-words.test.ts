import { expect, it } from 'vitest';
import { noAdviceWords } from '../../renderer/light-off/no-advice-words.ts';
import { fault } from '../../shared/model/faults.ts';

const swept = [
  { kind: 'sweep-start' as const, elapsedS: 10, text: '' },
  { kind: 'sweep-end' as const, elapsedS: 90, text: '' },
];
const died = fault('job-process-ended', { what: 'The calculation of the next trial', reason: 'signal SIGKILL' });
const refused = fault('trial-unknown');

it('a calculation that died is not said to lack a sweep, and can be asked for again', () => {
  for (const marks of [swept, []])
    for (const status of ['recording', 'complete'] as const)
      expect(noAdviceWords(died, { status, marks })).toMatch(
        /^The next trial is not known\..*twice.*Recalculate tries/u,
      );
});

it('a sweep is asked for only where there is none that counts', () => {
  const discarded = [...swept, { kind: 'sweep-void' as const, elapsedS: 95, text: 'wrong burner' }];
  for (const marks of [[], discarded])
    expect(noAdviceWords(refused, { status: 'recording', marks })).toBe('A sweep has to find the window first.');
  expect(noAdviceWords(refused, { status: 'recording', marks: swept })).toMatch(/^The sweep shows no window/u);
});
