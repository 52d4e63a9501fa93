import type { Bin } from './filter.ts';
import type { Moment } from './label.ts';
import { regulatorLikelihood, type RegulatorState, regulatorTransitions, settlingS } from './regulator.ts';
import { filterAndSmooth } from './smooth.ts';
import { stepS } from './states.ts';

const words: readonly RegulatorState[] = ['at-rest', 'turning-in', 'turning-out'];

/** What the regulator did, step by step, with hindsight; unknown where no gas flows. `noise` of the manometer in inH2O. */
export function regulatorCourse(bins: readonly Bin[], moments: readonly Moment[], noise: number): RegulatorState[] {
  let before: { value: number; t: number } | undefined;
  let flowsSince = 0;
  const likelihoods = bins.map((bin, t) => {
    if (moments[t]!.gas !== 'flowing') {
      before = undefined;
      flowsSince = t + 1;
      return undefined;
    }
    if (bin.pressure === undefined) return undefined;
    const last = before;
    before = { value: bin.pressure, t };
    if (!last || (t - flowsSince) * stepS < settlingS) return undefined;
    return regulatorLikelihood(bin.pressure - last.value, (t - last.t) * stepS, noise);
  });
  const { rows } = filterAndSmooth(Float64Array.of(0.8, 0.1, 0.1), regulatorTransitions, likelihoods);
  flowsSince = 0;
  return moments.map((moment, t) => {
    if (moment.gas !== 'flowing') {
      flowsSince = t + 1;
      return 'unknown';
    }
    if (flowsSince > 0 && (t - flowsSince) * stepS < settlingS) return 'settling';
    const row = rows.subarray(3 * t, 3 * t + 3);
    return words[row.indexOf(Math.max(...row))]!;
  });
}
