import type { AnalysisWarning, ComparedQuantity, ComparisonResult } from '../../model/analysis-result.ts';
import type { Capture } from '../../model/capture.ts';
import { formatPressure, formatSeconds, formatSignal } from '../../model/format.ts';
import { type Setup, setupDefaults } from '../../model/setup.ts';
import type { PressureUnit, SignalUnit } from '../../model/units.ts';
import type { Change } from './changes.ts';
import type { Study } from '../study.ts';

/** Sentences a technician can read: what has changed, what cannot be compared, and what became of the old setting. */
export function summarize(
  changes: Record<ComparedQuantity, Change>,
  old: ComparisonResult['oldSetPoint'],
  pressureUnit: PressureUnit,
  signalUnit: SignalUnit,
): string[] {
  const sentences: string[] = [];
  const report = (
    name: ComparedQuantity,
    subject: string,
    show: (value: number) => string,
    up: string,
    down: string,
  ) => {
    const { change, significant } = changes[name];
    if (significant && change !== null) sentences.push(`${subject} has ${change > 0 ? up : down} by ${show(change)}.`);
  };
  const inPressure = (value: number) => formatPressure(Math.abs(value), pressureUnit);
  const inSignal = (value: number) => formatSignal(Math.abs(value), signalUnit);
  report('lowEdge', 'The low end', inPressure, 'moved up', 'moved down');
  report('highEdge', 'The high end', inPressure, 'moved up', 'moved down');
  report('windowWidth', 'The run of good signal', inPressure, 'become wider', 'become narrower');
  report('plateau', 'The flame signal on the plateau', inSignal, 'risen', 'fallen');
  report('noise', 'The scatter of the signal', inSignal, 'grown', 'shrunk');
  report('lag', 'The delay of the signal', (value) => formatSeconds(Math.abs(value)), 'grown', 'shrunk');
  if (sentences.length === 0) sentences.push('Nothing has changed by more than the two sweeps can tell.');
  for (const [name, subject] of [
    ['lowEdge', 'The low end'],
    ['highEdge', 'The high end'],
  ] as const)
    if (changes[name].change === null)
      sentences.push(`${subject} cannot be compared: one of the sweeps did not reach it.`);
  if (changes.noise.change === null)
    sentences.push('The scatter cannot be compared: in one of the sweeps the signal is cut off at its top.');
  if (old) sentences.push(describeOldSetting(old, pressureUnit));
  return sentences;
}

function describeOldSetting(old: NonNullable<ComparisonResult['oldSetPoint']>, unit: PressureUnit): string {
  const at = formatPressure(old.value, unit);
  const least = formatPressure(Math.min(old.marginLow, old.marginHigh), unit);
  const sentences = {
    pass: `The old setting of ${at} still has its margin: ${least} on its nearer side.`,
    'conditional-pass': `The old setting of ${at} is inside today's window, but within the doubt of its end.`,
    'conditional-fail': `The old setting of ${at} is just outside today's window, within the doubt of its end.`,
    fail: `The old setting of ${at} is outside today's window.`,
  };
  return sentences[old.decision];
}

/** Warnings of what was not the same at both visits and may look like a change of the burner. */
export function comparisonWarnings(before: Capture, after: Capture, a: Study, b: Study): AnalysisWarning[] {
  const warnings: AnalysisWarning[] = [];
  if (a.sweep.pressureUnit !== b.sweep.pressureUnit || a.sweep.signalUnit !== b.sweep.signalUnit)
    warnings.push({
      code: 'units-converted',
      message: `The earlier sweep was in ${a.sweep.pressureUnit} and ${a.sweep.signalUnit}; it is shown in ${b.sweep.pressureUnit} and ${b.sweep.signalUnit}.`,
    });
  const meters = (capture: Capture) =>
    capture.meters
      .map((meter) => meter.profile)
      .sort()
      .join(', ');
  if (before.meters.length > 0 && after.meters.length > 0 && meters(before) !== meters(after))
    warnings.push({
      code: 'meters-differ',
      message: `Different meters were used: ${meters(before)}, then ${meters(after)}. Small changes may be theirs.`,
    });
  const different = setupDifferences(a.setup, b.setup);
  if (different.length > 0)
    warnings.push({
      code: 'setup-differs',
      message: `Not the same was asked in both sweeps: ${different.join(', ')}.`,
    });
  if (!a.setup.pressureAccuracy || !b.setup.pressureAccuracy || !a.setup.signalAccuracy || !b.setup.signalAccuracy)
    warnings.push({
      code: 'accuracy-unknown',
      message: 'The accuracy of a meter is not entered, so the change may include the error of the meters.',
    });
  for (const [study, when] of [
    [a, 'earlier'],
    [b, 'later'],
  ] as const)
    if (study.interval.status === 'none')
      warnings.push({
        code: 'signal-below-required',
        message: `The signal of the ${when} sweep never reaches the required ${formatSignal(study.interval.required.value, study.sweep.signalUnit)}.`,
      });
  return warnings;
}

/** Names of the settings that differ and that move the ends. */
function setupDifferences(a: Setup, b: Setup): string[] {
  const differs = (x: unknown, y: unknown) => JSON.stringify(x) !== JSON.stringify(y);
  const names: string[] = [];
  if (differs(a.minimumSignal, b.minimumSignal)) names.push('least flame signal');
  if (
    differs(
      a.signalDropFraction ?? setupDefaults.signalDropFraction,
      b.signalDropFraction ?? setupDefaults.signalDropFraction,
    )
  )
    names.push('drop from the plateau');
  if (differs(a.makerPressureRange, b.makerPressureRange)) names.push("maker's pressure range");
  return names;
}
