import type { AnalysisResult, ComparedQuantity } from '../model/analysis-result.ts';
import { formatNumber, pressureNumber, pressureUnitLabel, signalNumber, signalUnitLabel } from '../model/format.ts';

/** How a compared quantity is printed, and in which unit. */
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
      // Noise is some hundred times smaller than the signal: two more digits than the signal itself.
      const decimals = (signalNumber(0, signalUnit).split('.')[1] ?? '').length + 2;
      return { unit: signalUnitLabel(signalUnit), print: (value) => formatNumber(value, decimals) };
    }
    default: // lag
      return { unit: 's', print: (value) => formatNumber(value, 2) };
  }
}
