import type { AnalysisResult, AnalysisWarning } from '../../model/results/analysis-result.ts';
import { formatPressure } from '../../model/format.ts';
import type { Study } from '../study.ts';
import { fanOnlyRead, shutRead } from './fan-only-read.ts';
import { warning } from './warnings.ts';

/** A fan-only pressure that the manometer contradicts, whether or not there is a window. */
export function fanOnlyReadWarnings(study: Study): AnalysisWarning[] {
  const at = (value: number) => formatPressure(value, study.sweep.pressureUnit);
  const entered = at(study.settings.fanOnly);
  const below = fanOnlyRead(study);
  if (below !== undefined) return [warning('fan-only-not-as-read', { entered, read: at(below), side: 'below' })];
  const above = shutRead(study);
  return above === undefined ? [] : [warning('fan-only-not-as-read', { entered, read: at(above), side: 'above' })];
}

/** A fan-only pressure that is impossible, or that the rule of the split ignores. */
export function fanOnlyWarnings(
  { setup, settings, window, sweep }: Study,
  setPoint: AnalysisResult['setPoint'],
): AnalysisWarning[] {
  const { low, high } = window;
  if (!low || !high || low.guarded >= high.guarded) return [];
  const at = (value: number) => formatPressure(value, sweep.pressureUnit);
  const fanOnly = at(settings.fanOnly);
  // Gas flow cannot be split then; there may be no set point for another reason as well.
  if (settings.setPointRule === 'equal-flow' && settings.fanOnly >= high.guarded)
    return [warning('fan-only-above-window', { fanOnly, high: at(high.value) })];
  if (!setPoint) return [];
  if (!settings.fanOnlyKnown) return setPoint.rule === 'equal-flow' ? [warning('fan-only-unknown')] : [];
  if (!setup.fanOnlyPressure) return [];
  return [
    ...(settings.fanOnly >= setPoint.value
      ? [warning('fan-only-above-set-point', { fanOnly, setPoint: at(setPoint.value) })]
      : settings.fanOnly >= low.value
        ? [warning('fan-only-above-low-end', { fanOnly, low: at(low.value) })]
        : []),
    ...(setPoint.rule === 'equal-ratio' && settings.fanOnly !== 0
      ? [warning('ratio-of-gauge-pressures', { fanOnly })]
      : []),
  ];
}
