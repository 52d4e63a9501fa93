import type { AnalysisWarning } from '../../model/results/analysis-result.ts';
import { formatElapsed, formatPercent, formatPressure, formatSeconds } from '../../model/format.ts';
import type { Study } from '../study.ts';
import { warning } from './warnings.ts';

/** That the signal fell at good pressures, where it is not said already that the flame was lost there: a flame that goes out falls by half. */
export function signalFellWarnings({ excursions, contradictions, interval, sweep }: Study): AnalysisWarning[] {
  const isSaid = contradictions.lostWhereGood.length > 0;
  const unsaid = excursions.filter(({ least }) => !isSaid || least >= interval.plateau.value / 2);
  if (unsaid.length === 0) return [];
  const at = unsaid.map(
    ({ atS, seconds, pressure }) =>
      `at ${formatElapsed(atS)} for ${formatSeconds(seconds)}, at ${formatPressure(pressure, sweep.pressureUnit)}`,
  );
  return [warning('signal-fell', { at: at.join('; ') })];
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
