import type { AnalysisResult, AnalysisWarning } from '../../model/results/analysis-result.ts';
import { formatPressure } from '../../model/format.ts';
import type { Study } from '../study.ts';
import { splitEvenly } from '../window/set-point.ts';
import { warning } from './warnings.ts';

/** What the maker's range costs in margin, when it moves the split. */
export function makerRangeWarnings(
  { settings, window, sweep, tested, interval }: Study,
  setPoint: AnalysisResult['setPoint'],
): AnalysisWarning[] {
  const { makerRange, setPointRule, fanOnly } = settings;
  if (!makerRange || !setPoint || !window.low || !window.high) return [];
  const warnings: AnalysisWarning[] = [];
  // What lies beyond an end that was found need not be tested: going there would put the flame out.
  const isUntested =
    (makerRange.low < tested[0] && !interval.low?.bounded) || (makerRange.high > tested[1] && !interval.high?.bounded);
  if (isUntested) warnings.push(warning('outside-tested'));
  const endWithout = (side: 'low' | 'high') => {
    const ends = window.evidence.filter((e) => e.side === side && e.cause !== 'maker-range').map((e) => e.value);
    return side === 'low' ? Math.max(...ends) : Math.min(...ends);
  };
  const [low, high] = [endWithout('low'), endWithout('high')];
  const split = splitEvenly(setPointRule, low, high, fanOnly);
  if (split < makerRange.low || split > makerRange.high) {
    const at = (value: number) => formatPressure(value, sweep.pressureUnit);
    warnings.push(
      warning('maker-range-costs', {
        without: at(split),
        margin: at(Math.min(split - low, high - split)),
        withRange: at(Math.min(setPoint.marginLow, setPoint.marginHigh)),
      }),
    );
  }
  return warnings;
}
