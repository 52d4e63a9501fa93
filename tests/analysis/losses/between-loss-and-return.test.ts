import { describe, expect, it } from 'vitest';
import { analyze } from '../../../shared/analysis/analyze.ts';
import { truthOf } from '../../benchmark/visit/truth/truth.ts';
import { drawSimulated } from '../../benchmark/visit/visit.ts';

/**
 * The decision on a pressure half way between where the flame was lost and where it came back by itself, both as the generator has them. A
 * flame that is out there at times, with gas on, is no pilot.
 */
function decisionBetween(kind: string, seed: number, side: 'low' | 'high') {
  const { simulated, capture } = drawSimulated(kind, seed);
  const { ends, losses } = truthOf(simulated, capture.readings);
  expect(losses.some((loss) => loss.side === side && loss.relitBy === 'itself')).toBe(true);
  const value = (ends.lost[side]! + ends.returned[side]!) / 2;
  const marks = capture.marks.filter((mark) => mark.kind !== 'as-left');
  const setup = { ...capture.setup, asLeftPressure: { value, unit: 'inH2O' } } as const;
  const found = analyze({ ...capture, marks, setup }, setup);
  if (!found.ok) throw new Error(found.fault.message);
  return found.value.result;
}

describe('a pressure as left between the loss of the flame and its return', () => {
  // A steep shoulder with a lag that is too long follows both, so that the fit has no loss at all.
  it('does not pass where only the states tell that the flame came back by itself', () => {
    const result = decisionBetween('lost rich, back by itself', 5033, 'high');
    expect(result.flameHysteresis).toMatchObject([{ side: 'high' }]);
    expect(result.asLeft?.decision).toMatch(/fail$/u);
  });

  // The moment of the return is known no better than the lag, and the hand rested a second after its jerk.
  it('does not pass where the flame came back a moment after the hand had turned', () => {
    const result = decisionBetween('lost at both ends', 5016, 'low');
    expect(result.flameHysteresis).toMatchObject([{ side: 'low' }]);
    expect(result.asLeft?.decision).toMatch(/fail$/u);
  });
});
