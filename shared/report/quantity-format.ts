import type { AnalysisResult, ComparedQuantity } from '../model/results/analysis-result.ts';
import { formatNumber, pressureNumber, pressureUnitLabel, signalNumber, signalUnitLabel } from '../model/format.ts';

/** Unit and number format of a compared quantity. */
export function quantityFormat(
  quantity: ComparedQuantity,
  { pressureUnit, signalUnit }: Pick<AnalysisResult, 'pressureUnit' | 'signalUnit'>,
): { unit: string; print: (value: number) => string } {
  switch (quantity) {
    case 'lowEdge':
    case 'highEdge':
    case 'windowWidth':
      return { unit: pressureUnitLabel(pressureUnit), print: (value) => pressureNumber(value, pressureUnit) };
    case 'plateau':
      return { unit: signalUnitLabel(signalUnit), print: (value) => signalNumber(value, signalUnit) };
    case 'noise': {
      // Noise is about a hundred times smaller than the signal, so it needs two more decimals.
      const decimals = (signalNumber(0, signalUnit).split('.')[1] ?? '').length + 2;
      return { unit: signalUnitLabel(signalUnit), print: (value) => formatNumber(value, decimals) };
    }
    default: // lag
      return { unit: 's', print: (value) => formatNumber(value, 2) };
  }
}
