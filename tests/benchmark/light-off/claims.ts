import { lightOffAt } from '../../../shared/light-off/at-setting.ts';
import { planProgress } from '../../../shared/light-off/plan.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { type Share, shareOf } from '../table.ts';

const setting = { unit: 'inH2O', pressure: 2.4, tolerance: 0.1 } as const;
const [confidence, trialSeconds] = [0.95, 10];

const row = (trials: number, lights: () => boolean) =>
  Array.from({ length: trials }, () => ({ pressure: 2.4, unit: 'inH2O' as const, sparkDelayS: 0, lit: lights() }));

/** How often what is said to be proved at a setting is true: of `rows` rows of 3 to 30 trials at pilots of any probability. */
export function provedBounds(rows: number, seed: number): Share {
  const random = createRandom(seed);
  let held = 0;
  for (let i = 0; i < rows; i += 1) {
    const truth = 0.3 + 0.7 * random.uniform();
    const trials = row(3 + Math.floor(28 * random.uniform()), () => random.uniform() < truth);
    if (lightOffAt(trials, setting, trialSeconds, confidence).plain.lowerBound <= truth) held += 1;
  }
  return shareOf(held, rows);
}

/** How often a claim of 90 % at 90 % confidence is met by a pilot that lights in just less than 90 % of trials. */
export function wrongClaims(rows: number, seed: number): Share {
  const random = createRandom(seed);
  const plan = { probability: 0.9, confidence: 0.9, delayed: 0 };
  let met = 0;
  for (let i = 0; i < rows; i += 1)
    if (
      planProgress(
        plan,
        row(22, () => random.uniform() < 0.8999),
        setting,
        trialSeconds,
      ).met
    )
      met += 1;
  return shareOf(met, rows);
}
