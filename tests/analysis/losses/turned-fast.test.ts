import { describe, expect, it } from 'vitest';
import { answer, codesOf } from '../answer.ts';
import { type Act, goodPilot, record, trueEnds } from '../burner-by-hand.ts';

// At 0.6 inH2O a second down past the low end to 0.85, up past the high end, and back: above the fan-only pressure of 0.3 all the while.
const turnedFast: Act[] = [
  { seconds: 20 },
  { seconds: 2.6, to: 0.85 },
  { seconds: 1 },
  { seconds: 5.9, to: 4.35 },
  { seconds: 1 },
  { seconds: 3.3, to: 2.4 },
  { seconds: 20 },
  { seconds: 30, valve: 'shut' },
];
const setup = { fanOnlyPressure: { value: 0.3, unit: 'inH2O' as const } };

describe.each([1, 2, 3, 4])(
  'a regulator turned as fast as a valve closes, above the entered fan-only pressure: %d',
  (seed) => {
    const capture = record({ ...goodPilot, seed, setup }, turnedFast);
    const { window } = answer(capture).result;

    it.each(['low', 'high'] as const)('shows where the window ends on the %s side', (side) => {
      expect(window[side]!.cause).not.toBe('tested-end');
      expect(window[side]!.ci[0]).toBeLessThan(trueEnds(goodPilot)[side]);
      expect(window[side]!.ci[1]).toBeGreaterThan(trueEnds(goodPilot)[side]);
    });
    it('is not said to be untested there', () => {
      expect(codesOf(capture)).not.toContain('low-end-not-reached');
      expect(codesOf(capture)).not.toContain('high-end-not-reached');
    });
  },
);
