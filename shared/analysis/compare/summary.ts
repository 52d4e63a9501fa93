import type { ComparedQuantity, ComparisonResult } from '../../model/results/analysis-result.ts';
import { formatMargin, formatPressure, formatSeconds, formatSignal } from '../../model/format.ts';
import type { PressureUnit, SignalUnit } from '../../model/units.ts';
import type { Change } from './changes.ts';

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
  report('windowWidth', 'The range of good signal', inPressure, 'become wider', 'become narrower');
  report('plateau', 'The flame signal on the plateau', inSignal, 'risen', 'fallen');
  report('noise', 'The scatter of the signal', inSignal, 'grown', 'shrunk');
  report('lag', 'The lag of the signal', (value) => formatSeconds(Math.abs(value)), 'grown', 'shrunk');
  if (sentences.length === 0) sentences.push('Nothing has changed by more than the uncertainty of the two sweeps.');
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
  const least = formatMargin(Math.min(old.marginLow, old.marginHigh), unit);
  const sentences = {
    pass: `The old setting of ${at} still has its margin: ${least} on its nearer side.`,
    'conditional-pass': `The old setting of ${at} is inside today's signal window, but within the uncertainty of its end.`,
    'conditional-fail': `The old setting of ${at} is just outside today's signal window, within the uncertainty of its end.`,
    fail: `The old setting of ${at} is outside today's signal window.`,
  };
  return `${sentences[old.decision]} This judges the signal window only, not whether the pilot lights there.`;
}
