import { expect, it } from 'vitest';
import type { Mark, MarkKind, Trial } from '../../shared/model/capture.ts';
import { visitItems } from '../../shared/report/charts/visit-items.ts';

const mark = (elapsedS: number, kind: MarkKind, text = ''): Mark => ({ elapsedS, kind, text });
const trial = (more: Partial<Trial>): Trial => ({ pressure: 2, unit: 'inH2O', lit: true, ...more });

it('lists sweeps in the order of time, the discarded ones with their reason, and the one that is running', () => {
  const marks = [
    mark(10, 'sweep-start'),
    mark(60, 'sweep-void', 'slipped'),
    mark(70, 'sweep-start'),
    mark(90, 'sweep-end'),
    mark(95, 'sweep-start'),
  ];
  expect(visitItems({ marks, trials: [], setup: {} })).toEqual([
    { kind: 'sweep', name: 'Sweep 1', number: 1, verdict: 'discarded', reason: 'slipped', fromS: 10, toS: 60 },
    { kind: 'sweep', name: 'Sweep 2', number: 2, verdict: 'counts', fromS: 70, toS: 90 },
    { kind: 'sweep', name: 'Sweep 3', number: 3, verdict: 'running', fromS: 95, toS: Infinity },
  ]);
});

it('lists the trials that count by their number in the record, to the end that was marked', () => {
  const marks = [mark(20, 'trial-start'), mark(31, 'trial-end'), mark(50, 'trial-start'), mark(62, 'trial-end')];
  const trials = [
    trial({ elapsedS: 20, lit: false }),
    trial({ elapsedS: 50, timeToProveS: 2 }),
    trial({ elapsedS: 20, lit: true, corrects: 1 }),
    trial({ elapsedS: 80, timeToProveS: 3 }), // without marks
    trial({ lit: true }), // nobody knows when
    trial({ elapsedS: 50, corrects: 2, status: 'void' }),
    trial({ elapsedS: 95, timeToProveS: 10.2 }), // proved after the trial for ignition, 10 s
  ];
  expect(visitItems({ marks, trials, setup: {} })).toEqual([
    { kind: 'trial', name: 'Trial 3', number: 3, verdict: 'lit', fromS: 20, toS: 31 },
    { kind: 'trial', name: 'Trial 4', number: 4, verdict: 'lit', fromS: 80, toS: 83 },
    { kind: 'trial', name: 'Trial 7', number: 7, verdict: 'not-lit', fromS: 95, toS: 105.2 },
  ]);
});

it('lists the trial that is running, and one that was cut short and waits for a result', () => {
  const marks = [mark(20, 'trial-start'), mark(26, 'trial-end', 'recording was interrupted'), mark(60, 'trial-start')];
  expect(visitItems({ marks, trials: [], setup: {}, status: 'recording' })).toEqual([
    { kind: 'trial', name: 'Interrupted trial', verdict: 'not-judged', fromS: 20, toS: 26 },
    { kind: 'trial', name: 'Running trial', verdict: 'running', fromS: 60, toS: Infinity },
  ]);
});
