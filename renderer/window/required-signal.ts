import type { AnalysisResult } from '../../shared/model/results/analysis-result.ts';
import { formatPercent, formatSignal } from '../../shared/model/format.ts';
import type { Setup } from '../../shared/model/setup.ts';
import { signalDemands } from '../../shared/report/required-signal.ts';

/** The required signal and the two levels that it is the higher of, with that one named. Short, for a narrow column. */
export function requiredSignalRows(result: AnalysisResult, setup: Setup): [label: string, value: string][] {
  const { requiredSignal, signalUnit } = result;
  const { minimum, fromPlateau, dropFraction } = signalDemands(result, setup);
  const isMinimum = requiredSignal.basis === 'minimum-signal';
  const named = (label: string, isHigher: boolean) => (isHigher && minimum !== undefined ? `${label} (higher)` : label);
  const given = setup.minimumSignal;
  // A minimum in a kind of unit that was not measured, such as microamps beside volts, cannot be compared.
  const notCompared = given ? `${formatSignal(given.value, given.unit)}, not comparable` : 'not entered';
  return [
    ['Required signal', formatSignal(requiredSignal.value, signalUnit)],
    [named('Minimum flame signal', isMinimum), minimum === undefined ? notCompared : formatSignal(minimum, signalUnit)],
    [named(`Plateau less ${formatPercent(dropFraction)}`, !isMinimum), formatSignal(fromPlateau, signalUnit)],
  ];
}
