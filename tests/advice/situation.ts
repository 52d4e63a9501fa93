import type { Situation } from '../../shared/advice/situation.ts';
import type { CountedTrial } from '../../shared/light-off/at-setting.ts';

/** A trial at a pressure in inH2O. */
export const trial = (pressure: number, lit = true, sparkDelayS: number | undefined = 0): CountedTrial => ({
  pressure,
  unit: 'inH2O',
  lit,
  ...(sparkDelayS !== undefined && { sparkDelayS }),
});

/** Three plain trials and a delayed one at 2.4, all lit. */
export const met = [trial(2.4), trial(2.4), trial(2.4), trial(2.4, true, 5)];

/** A setting of 2.4 inH2O in a window of 1.2 to 4.0, everything agreed: 1.5 to 3.6, the spark at most 5 s late, one failure. */
export const situation = (more: Partial<Situation> = {}): Situation => ({
  unit: 'inH2O',
  setting: { pressure: 2.4, tolerance: 0.1, words: 'the pressure as left' },
  window: { low: 1.2, high: 4, guarded: { low: 1.25, high: 3.95 } },
  tested: { low: 0.8, high: 4.5 },
  limits: { low: 1.5, high: 3.6, longestDelayS: 5, mostFailures: 1 },
  plan: { plain: 3, delayed: 1 },
  trialSeconds: 10,
  trials: [],
  moved: () => false,
  obstacles: [],
  notes: [],
  ...more,
});
