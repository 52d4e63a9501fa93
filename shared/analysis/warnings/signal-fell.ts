import type { AnalysisWarning } from '../../model/results/analysis-result.ts';
import { formatElapsed, formatPressure, formatSeconds } from '../../model/format.ts';
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
