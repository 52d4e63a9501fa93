import type { AnalysisWarning } from '../../model/results/analysis-result.ts';
import type { Capture } from '../../model/capture.ts';
import { formatDuration, formatSeconds, formatSignal, formatSignalChange } from '../../model/format.ts';
import { isPractice } from '../../model/practice-mark.ts';
import { type Setup, setupDefaults } from '../../model/setup.ts';
import type { Study } from '../study.ts';
import { isDriftRelevant } from '../window/diagnostics/drift.ts';
import type { Change } from './changes.ts';

/** Codes of what a comparison may warn of. */
export const comparisonWarningCodes = [
  'practice-compared',
  'units-converted',
  'meters-differ',
  'setup-differs',
  'accuracy-unknown',
  'signal-below-required',
  'signal-drifts',
  'lag-of-manometer',
  'old-setting-not-tested',
] as const;
type Code = (typeof comparisonWarningCodes)[number];

/** The earlier setting lies beyond the last pressure of a later sweep that found no end there. */
export const oldSettingNotTested: AnalysisWarning = {
  code: 'old-setting-not-tested' satisfies Code,
  message: 'The later sweep did not reach past the earlier setting, so nothing is said of that setting today.',
};

/**
 * Warnings of what was not the same at both visits and may look like a change of the burner.
 *
 * @param before, after  the captures of the earlier and of the later sweep
 * @param a, b           their studies
 * @param lag            how the lag changed
 */
export function comparisonWarnings(
  before: Capture,
  after: Capture,
  a: Study,
  b: Study,
  lag: Change,
): AnalysisWarning[] {
  const warnings: AnalysisWarning[] = [];
  const warn = (code: Code, message: string) => warnings.push({ code, message });
  const [earlierIsPractice, laterIsPractice] = [isPractice(before), isPractice(after)];
  if (earlierIsPractice !== laterIsPractice)
    warn(
      'practice-compared',
      `The ${earlierIsPractice ? 'earlier' : 'later'} sweep is PRACTICE, of an invented burner; the other one is not. What differs between them says nothing about a real burner.`,
    );
  if (a.sweep.pressureUnit !== b.sweep.pressureUnit || a.sweep.signalUnit !== b.sweep.signalUnit)
    warn(
      'units-converted',
      `The earlier sweep was in ${a.sweep.pressureUnit} and ${a.sweep.signalUnit}; it is shown in ${b.sweep.pressureUnit} and ${b.sweep.signalUnit}.`,
    );
  const meters = (capture: Capture) =>
    capture.meters
      .map((meter) => meter.profile)
      .sort()
      .join(', ');
  if (before.meters.length > 0 && after.meters.length > 0 && meters(before) !== meters(after))
    warn(
      'meters-differ',
      `Different meters were used: ${meters(before)}, then ${meters(after)}. Small changes may be theirs.`,
    );
  const different = setupDifferences(a.setup, b.setup);
  if (different.length > 0)
    warn('setup-differs', `The requirements of the two sweeps differ: ${different.join(', ')}.`);
  if (!a.setup.pressureAccuracy || !b.setup.pressureAccuracy || !a.setup.signalAccuracy || !b.setup.signalAccuracy)
    warn(
      'accuracy-unknown',
      'The accuracy of a meter was not entered, so the change may include the error of the meters.',
    );
  for (const [{ interval, sweep, drift }, when] of [
    [a, 'earlier'],
    [b, 'later'],
  ] as const) {
    if (interval.status === 'none')
      warn(
        'signal-below-required',
        `The signal of the ${when} sweep never reaches the required ${formatSignal(interval.required.value, sweep.signalUnit)}.`,
      );
    if (drift && isDriftRelevant(drift, interval))
      warn(
        'signal-drifts',
        `The signal of the ${when} sweep drifted by ${formatSignalChange(drift.change, sweep.signalUnit)} in ${formatDuration(drift.overS)} at the same pressures, so a change of that size says nothing of the burner. Let detector and meter warm up.`,
      );
  }
  if (!lag.significant && lag.change !== null && differsByItself(a, b))
    warn(
      'lag-of-manometer',
      `The signal follows the manometer by ${formatSeconds(Math.abs(lag.change))} ${lag.change > 0 ? 'later' : 'sooner'} than before. Damping of the manometer explains as much: set it alike at every visit.`,
    );
  return warnings;
}

/** The lags behind the manometer differ by more than the readings explain: three standard uncertainties. */
const differsByItself = (a: Study, b: Study): boolean =>
  Math.abs(b.lag.value - a.lag.value) > 3 * Math.hypot(a.lag.component.u, b.lag.component.u);

/** Names of the settings that differ and that move the ends. */
function setupDifferences(a: Setup, b: Setup): string[] {
  const differs = (x: unknown, y: unknown) => JSON.stringify(x) !== JSON.stringify(y);
  const dropOf = (setup: Setup) => setup.signalDropFraction ?? setupDefaults.signalDropFraction;
  return [
    ...(differs(a.minimumSignal, b.minimumSignal) ? ['minimum flame signal'] : []),
    ...(dropOf(a) === dropOf(b) ? [] : ['drop from the plateau']),
    ...(differs(a.makerPressureRange, b.makerPressureRange) ? ["maker's pressure range"] : []),
  ];
}
