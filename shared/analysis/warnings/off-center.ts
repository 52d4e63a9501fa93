import type { AnalysisResult, AnalysisWarning } from '../../model/results/analysis-result.ts';
import { formatPressure } from '../../model/format.ts';
import type { Study } from '../study.ts';
import { warning } from './warnings.ts';
import { shareBetween } from '../window/set-point.ts';

/**
 * Why a set point lies outside the middle third of the window, in the rule's own measure: which end's guarded value pushes it away, and
 * what guards it. Nothing where it lies inside.
 */
export function offCenterWarnings(
  { window: { low, high, evidence }, settings, sweep }: Study,
  setPoint: NonNullable<AnalysisResult['setPoint']>,
): AnalysisWarning[] {
  if (!low || !high) return [];
  const share = shareBetween(setPoint.rule, low.value, high.value, setPoint.value, settings.fanOnly);
  if (Math.abs(share - 1 / 2) <= 1 / 6) return [];
  const at = (value: number) => formatPressure(value, sweep.pressureUnit);
  const [side, end] = share > 1 / 2 ? (['low', low] as const) : (['high', high] as const);
  const guards = evidence.find((each) => each.side === side && each.cause === (end.guardedBy ?? end.cause));
  return [
    warning('set-point-off-center', {
      at: at(setPoint.value),
      low: at(low.value),
      high: at(high.value),
      side,
      from: at(end.guarded),
      evidence: guards?.message ?? '',
    }),
  ];
}
