import { shareAt } from '../visit/burner/curves.ts';
import { flickerAt, steadySignal } from '../visit/burner/detector.ts';
import { stepS } from '../visit/burner/facts.ts';
import type { Simulated } from '../visit/simulated.ts';

/** Between two known alternatives an observer who errs in one of a hundred, either way, needs this distance: 2 times the 99 % point. */
const ninetyNineOfHundred = 2 * 2.326;

/**
 * Whether anybody could tell that the signal was not just at what is required during these steps: an observer who knows the curve, the lag
 * and the noise. The noise that does not average out is that of the slow flicker, 2 T s^2 for an Ornstein-Uhlenbeck process of time T, and
 * of the meter, s^2 / f at f readings a second; both are densities at frequency 0, which a lag of unit gain leaves as they are.
 * Source: detectability of a known signal in Gaussian noise, Green and Swets 1966, Signal Detection Theory and Psychophysics, chapter 6.
 *
 * @param steps  of the trace, those in which a flame was seen
 */
export function isToldApart({ facts, instruments, trace, required }: Simulated, steps: readonly number[]): boolean {
  const { noise, hz } = instruments.signal;
  const { flickerS } = facts.detector;
  let squared = 0;
  for (const i of steps) {
    const share = shareAt(facts.curve, trace.pressure[i]!);
    const density = 2 * flickerS * flickerAt(facts, share) ** 2 + noise ** 2 / hz;
    squared += ((steadySignal(facts, share) - required) ** 2 * stepS) / density;
  }
  return Math.sqrt(squared) >= ninetyNineOfHundred;
}
