import { describe, expect, it } from 'vitest';
import { analyze } from '../../../shared/analysis/analyze.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { simulateVisit } from '../../../shared/practice/simulate.ts';
import { drawSweep } from '../../benchmark/sweep/kinds.ts';
import { drawSimulated } from '../../benchmark/visit/visit.ts';
import { answer } from '../answer.ts';
import { cases } from '../warnings/warning-cases.ts';

/** The same capture with a constant added to every time, as another logger would count. */
const later = (capture: Capture, byS: number): Capture => ({
  ...capture,
  readings: capture.readings.map((reading) => ({ ...reading, elapsedS: reading.elapsedS + byS })),
  marks: capture.marks.map((mark) => ({ ...mark, elapsedS: mark.elapsedS + byS })),
  trials: capture.trials.map((trial) => ({
    ...trial,
    ...(trial.elapsedS !== undefined && { elapsedS: trial.elapsedS + byS }),
  })),
});

/** Everything found, without what is said in the capture's own seconds. */
function timeless(capture: Capture): string {
  const outcome = analyze(capture);
  if (!outcome.ok) return outcome.fault.code;
  const { phases, excursions, warnings, ...rest } = outcome.value.result;
  return JSON.stringify([
    rest,
    warnings.map(({ code }) => code),
    excursions?.map(({ at_s: _, ...excursion }) => excursion),
    phases?.map(({ from_s, to_s, ...phase }) => [phase, (to_s - from_s).toFixed(3)]),
  ]);
}

describe('the zero of time', () => {
  // Invented captures of each kind of sweep and visit; constants of a logger that counts the day, and of no round number.
  it.each([
    ['two shoulders', drawSweep('two shoulders', 4).capture],
    ['flame lost', drawSweep('flame lost', 2).capture],
    ['self-check', drawSweep('self-check', 2).capture],
    ['spikes and junk', drawSweep('spikes and junk', 3).capture],
    ['a visit with trials', simulateVisit('clean', 3).capture],
    ['a lost flame', drawSimulated('lost lean, back by itself', 2).capture],
  ])('changes nothing: %s', (_, capture) => {
    const found = timeless(capture);
    for (const byS of [0.037, 86_400.25, -7.5]) expect(timeless(later(capture, byS))).toBe(found);
  });

  // What is read about a trial or while gas was shut is looked for by its time.
  it.each(['light-off-elsewhere', 'light-off-not-shown', 'zero-shifted', 'gas-not-shut-off'] as const)(
    'hides no warning: %s',
    (code) => {
      const { capture, setup = capture.setup } = cases[code]();
      const codes = answer({ ...later(capture, 86_400.25), setup }).result.warnings.map((each) => each.code);
      expect(codes).toContain(code);
    },
  );

  it('is that of the capture in what is said of times', () => {
    const { capture } = drawSweep('two shoulders', 4);
    const [plain, moved] = [answer(capture), answer(later(capture, 1000))];
    expect(moved.pairs.elapsedS[0]).toBeCloseTo(plain.pairs.elapsedS[0]! + 1000, 6);
    expect(moved.result.phases!.at(-1)!.to_s).toBeCloseTo(plain.result.phases!.at(-1)!.to_s + 1000, 6);
  });
});
