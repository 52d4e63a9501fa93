import type { AnalysisResult } from '../model/results/analysis-result.ts';
import { formatPercent, formatSignal } from '../model/format.ts';
import type { Setup } from '../model/setup.ts';
import { setupDefaults } from '../model/setup.ts';
import { convertSignal } from '../model/units.ts';

/** Both demands on the signal, in the signal unit of the result. */
export interface SignalDemands {
  /** The minimum flame signal that the maker asks; undefined when none was entered, or in another kind of unit. */
  minimum: number | undefined;
  /** The plateau less the allowed drop. */
  fromPlateau: number;
  /** The allowed drop, as a fraction of the plateau. */
  dropFraction: number;
}

/** The two levels of which the required signal is the higher one. */
export function signalDemands({ plateau, requiredSignal, signalUnit }: AnalysisResult, setup: Setup): SignalDemands {
  const { minimumSignal, signalDropFraction: dropFraction = setupDefaults.signalDropFraction } = setup;
  const { value, basis } = requiredSignal;
  return {
    minimum: minimumSignal && convertSignal(minimumSignal.value, minimumSignal.unit, signalUnit),
    // The analysis' own number where there is one, so that the same digits are printed.
    fromPlateau: basis === 'drop-fraction' ? value : (1 - dropFraction) * plateau.value,
    dropFraction,
  };
}

/** What the maker asks, what the drop from the plateau asks, and the higher one, named. */
export function requiredSignalRows(result: AnalysisResult, setup: Setup): { label: string; value: string }[] {
  const { signalUnit, requiredSignal } = result;
  const { minimum, fromPlateau, dropFraction } = signalDemands(result, setup);
  const source =
    requiredSignal.basis === 'minimum-signal' ? 'the minimum flame signal' : 'the allowed drop below the plateau';
  return [
    {
      label: 'Minimum flame signal',
      value: minimum === undefined ? 'not stated' : formatSignal(minimum, signalUnit),
    },
    {
      label: `Plateau less the allowed ${formatPercent(dropFraction, 1)} drop`,
      value: formatSignal(fromPlateau, signalUnit),
    },
    {
      label: 'Required signal',
      value: `${formatSignal(requiredSignal.value, signalUnit)}, ${minimum === undefined ? '' : 'the higher of the two, '}set by ${source}`,
    },
  ];
}
