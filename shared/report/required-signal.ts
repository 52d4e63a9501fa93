import type { AnalysisResult } from '../model/analysis-result.ts';
import { formatPercent, formatSignal } from '../model/format.ts';
import { setupDefaults, type Setup } from '../model/setup.ts';
import { convertSignal } from '../model/units.ts';

/**
 * The required signal as (label, text), then the two requirements that it is the higher of, with that one named:
 * required = max(minimumSignal, (1 - signalDropFraction) x plateau). In the signal unit of the result.
 */
export function requiredSignalRows(
  { requiredSignal, plateau, signalUnit }: Pick<AnalysisResult, 'requiredSignal' | 'plateau' | 'signalUnit'>,
  setup: Setup,
): [label: string, text: string][] {
  const drop = setup.signalDropFraction ?? setupDefaults.signalDropFraction;
  const given = setup.minimumSignal;
  const minimum = given && convertSignal(given.value, given.unit, signalUnit);
  // Volts say nothing about microamps.
  const missing = given ? `${formatSignal(given.value, given.unit)}, not comparable` : 'not given';
  const isMinimum = requiredSignal.basis === 'minimum-signal';
  const higher = (is: boolean) => (is && minimum !== undefined ? ' (higher)' : '');
  return [
    ['Required signal', formatSignal(requiredSignal.value, signalUnit)],
    [`Maker’s minimum${higher(isMinimum)}`, minimum === undefined ? missing : formatSignal(minimum, signalUnit)],
    [`Plateau less ${formatPercent(drop)}${higher(!isMinimum)}`, formatSignal((1 - drop) * plateau.value, signalUnit)],
  ];
}
