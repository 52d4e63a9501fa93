import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../shared/model/capture.ts';
import { answer } from '../answer.ts';
import { type Act, goodPilot, record, trueEnds } from '../burner-by-hand.ts';

/** Down across the low end, then up until the flame lifts off at 3.6 inH2O, where gas stays on unlit until the valve is shut. */
const pilot = { ...goodPilot, lostAbove: 3.6 };
const acts: Act[] = [
  { seconds: 8 },
  { seconds: 40, to: 0.95 },
  { seconds: 4 },
  { seconds: 65, to: 3.7 },
  { seconds: 90 },
  { seconds: 20, valve: 'shut' },
];
/** The signal meter is out from 3.3 inH2O on, turning up, until long after the flame was lost. */
const [fromS, toS] = [108, 160];

const silent = (capture: Capture): Capture => ({
  ...capture,
  readings: capture.readings.filter(
    ({ role, elapsedS }) => role !== 'flame_signal' || elapsedS < fromS || elapsedS > toS,
  ),
});
function frozen(capture: Capture): Capture {
  const last = capture.readings.findLast(({ role, elapsedS }) => role === 'flame_signal' && elapsedS < fromS)!.value;
  const repeats = ({ role, elapsedS }: Capture['readings'][number]) =>
    role === 'flame_signal' && elapsedS >= fromS && elapsedS <= toS;
  return { ...capture, readings: capture.readings.map((each) => (repeats(each) ? { ...each, value: last } : each)) };
}

describe('a flame that was lost while the signal meter was out', () => {
  it.each([
    ['silent', silent],
    ['frozen', frozen],
  ])('does not end the signal anywhere: nobody saw at which pressure it went out (%s)', (_, spoil) => {
    for (const seed of [1, 2, 3, 4]) {
      const { result } = answer(spoil(record({ ...pilot, seed }, acts)));
      const { status, low, high } = result.signalInterval;
      expect(status).toBe('open-high');
      expect(Math.abs(low!.value - trueEnds(pilot).low)).toBeLessThan(0.06);
      // The last pressure at which the signal was seen, 52 of the 65 seconds of the turn up from 0.95 to 3.7, but for the lag.
      expect(high!.value).toBeLessThan(0.95 + (2.75 * (fromS - 52)) / 65 + 0.05);
      expect(high!.value).toBeGreaterThan(3);
      expect(result.setPoint?.provisional ?? true).toBe(true);
      expect(result.warnings.map(({ code }) => code)).toContain('high-end-not-reached');
    }
  });

  it('but ends the window where the loss itself was seen', () => {
    const { result } = answer(record(pilot, acts));
    expect(result.window.high!.cause).toBe('flame-lost');
    expect(Math.abs(result.window.high!.value - 3.6)).toBeLessThan(0.06);
  });
});
