import { describe, expect, it } from 'vitest';
import { answer } from '../answer.ts';
import { type Act, goodPilot, record } from '../burner-by-hand.ts';

/** Down from 2.4 to 1.5 inH2O, where the flame goes out for good; gas stays on while the regulator is turned up to 4.9. */
const acts: Act[] = [
  { seconds: 12 },
  { seconds: 30, to: 1.5 },
  { seconds: 6 },
  { seconds: 2, flame: 'out' },
  { seconds: 60, to: 4.9 },
  { seconds: 5 },
];

describe('a flame that was lost for good, with gas left on', () => {
  it.each([1, 2, 3])(
    'ends the window where it was lost, and nothing that was turned to afterwards is tested, seed %i',
    (seed) => {
      const { result } = answer(record({ ...goodPilot, seed }, acts));
      const { low, high, status } = result.signalInterval;
      expect(status).toBe('open-high');
      expect(result.window.low!.cause).toBe('flame-lost');
      expect(Math.abs(low!.value - 1.5)).toBeLessThan(0.08);
      // 2.4 inH2O is the highest at which it burned.
      expect(high!.value).toBeLessThan(2.45);
      expect(result.setPoint?.provisional ?? true).toBe(true);
    },
  );
});
