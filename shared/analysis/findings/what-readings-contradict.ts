import type { AnalysisResult, AnalysisWarning } from '../../model/analysis-result.ts';
import { formatElapsed, formatPressure, formatPressureRange, formatSignal } from '../../model/format.ts';
import type { FrozenStretch } from '../sweep/meter-faults/frozen.ts';
import type { Study } from '../study.ts';
import { warning } from '../warnings.ts';
import { type Level, plateauAt } from '../window/diagnostics/two-plateaus.ts';
import { fanOnlyRead } from './fan-only-read.ts';

/** Where the signal has two plateaus: which of them the window and the set point mean. */
export function plateauWarnings(
  { plateaus, interval, sweep }: Study,
  setPoint: AnalysisResult['setPoint'],
): AnalysisWarning[] {
  if (!plateaus) return [];
  const show = ({ from, to, signal }: Level) =>
    `${formatSignal(signal, sweep.signalUnit)} from ${formatPressureRange([from, to], sweep.pressureUnit)}`;
  const at = setPoint && plateauAt(plateaus, setPoint.value);
  const stands = at ? `The set point stands on the ${at === plateaus.higher ? 'higher' : 'lower'} one.` : '';
  const meant =
    plateaus.lower.signal < interval.required.value
      ? `The window is that of the higher one; on the lower one the signal is below what is required.`
      : `The window holds both. ${stands}`.trim();
  return [warning('two-plateaus', { higher: show(plateaus.higher), lower: show(plateaus.lower), meant })];
}

/** A fan-only pressure that the manometer contradicts, whether or not there is a window. */
export function fanOnlyReadWarnings(study: Study): AnalysisWarning[] {
  const read = fanOnlyRead(study);
  if (read === undefined) return [];
  const at = (value: number) => formatPressure(value, study.sweep.pressureUnit);
  return [warning('fan-only-not-as-read', { entered: at(study.settings.fanOnly), read: at(read) })];
}

/** One warning for each meter that was frozen: the longest stretch, and how many there were. */
export function frozenWarnings({ frozen, sweep }: Study): AnalysisWarning[] {
  const longest = (stretches: readonly FrozenStretch[]) =>
    stretches.reduce((a, b) => (b.toS - b.fromS > a.toS - a.fromS ? b : a));
  const about = (meter: string, stretches: readonly FrozenStretch[], show: (value: number) => string) => {
    if (stretches.length === 0) return [];
    const { fromS, toS, value } = longest(stretches);
    const [from, to] = [formatElapsed(fromS), formatElapsed(toS)];
    return [warning('meter-frozen', { meter, value: show(value), from, to, times: stretches.length })];
  };
  return [
    ...about('manometer', frozen.pressure, (value) => formatPressure(value, sweep.pressureUnit)),
    ...about('flame signal meter', frozen.signal, (value) => formatSignal(value, sweep.signalUnit)),
  ];
}
