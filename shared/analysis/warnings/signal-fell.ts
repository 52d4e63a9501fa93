import type { AnalysisWarning } from '../../model/results/analysis-result.ts';
import {
  formatElapsed,
  formatPercent,
  formatPressure,
  formatPressureRange,
  formatSeconds,
} from '../../model/format.ts';
import type { Excursion } from '../sweep/flame/falls.ts';
import type { Study } from '../study.ts';
import { warning } from './warnings.ts';

/**
 * That the signal fell at good pressures, or stayed low there. What is said already is left out: that the flame was lost where a signal fell by
 * half, as that of a flame that goes out.
 */
export function signalFellWarnings({ excursions, contradictions, interval, sweep }: Study): AnalysisWarning[] {
  const isSaid = contradictions.lostWhereGood.length > 0;
  const unit = sweep.pressureUnit;
  const when = ({ atS, seconds }: Excursion) => `at ${formatElapsed(atS)} for ${formatSeconds(seconds)}`;
  const fell = excursions
    .filter(({ range, least }) => !range && (!isSaid || least >= interval.plateau.value / 2))
    .map((each) => `${when(each)}, at ${formatPressure(each.pressure, unit)}`);
  const stayed = excursions.flatMap((each) =>
    each.range ? [`${when(each)}, at ${formatPressureRange(each.range, unit)}`] : [],
  );
  return [
    ...(fell.length > 0 ? [warning('signal-fell', { at: fell.join('; ') })] : []),
    ...(stayed.length > 0 ? [warning('signal-stayed-low', { at: stayed.join('; ') })] : []),
  ];
}

/** That too many single readings are weak where their mean is good. */
export function scatterWarnings({ weakReadings, sweep }: Study): AnalysisWarning[] {
  if (!weakReadings) return [];
  const { weak, readings, from, to, below } = weakReadings;
  return [
    warning('signal-scatters', {
      share: formatPercent(weak / readings),
      weak,
      readings,
      below: below === 'minimum' ? 'the minimum signal' : 'what is required',
      from: formatPressure(from, sweep.pressureUnit),
      to: formatPressure(to, sweep.pressureUnit),
    }),
  ];
}
