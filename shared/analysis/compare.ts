import { exp, log } from '../model/elementary.ts';
import type {
  AnalysisWarning,
  ComparedQuantity,
  ComparisonDetail,
  ComparisonResult,
} from '../model/analysis-result.ts';
import type { Capture } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { formatPressure, formatSeconds, formatSignal } from '../model/format.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { type Setup, setupDefaults } from '../model/setup.ts';
import { convertPressure, convertSignal, type PressureUnit, sameSignalKind, type SignalUnit } from '../model/units.ts';
import { detailOf } from './analyze.ts';
import { normalQuantile, studentQuantile } from './distributions.ts';
import { pressureUncertainty, signalUncertainty } from './instruments.ts';
import { decide, findSetPoint } from './set-point.ts';
import { type Study, study } from './study.ts';

type Change = ComparisonResult[ComparedQuantity];

/** A value of one sweep with its standard uncertainty; undefined when that sweep could not say. */
type Known = { value: number; u: number } | undefined;

const quantityCount = 6;

/**
 * Lays two sweeps of the same burner over each other: what has changed, by how much, and whether it is more than chance.
 *
 * Both are analysed with their own setups. The intervals of all six changes hold together at `confidence` (Sidak 1967,
 * JASA 62, 626), so that nothing is called changed by chance in more than 1 - confidence of comparisons. The accuracy of
 * both meters counts as independent between the visits. Units of the answer are those of the later sweep.
 *
 * Fails with what `analyze` fails with, and with `units-differ` when the signals are of different kinds.
 */
export function compare(before: Capture, after: Capture): Outcome<ComparisonDetail> {
  const first = study(before, before.setup);
  if (!first.ok) return first;
  const second = study(after, after.setup);
  if (!second.ok) return second;
  const [a, b] = [first.value, second.value];
  if (!sameSignalKind(a.sweep.signalUnit, b.sweep.signalUnit))
    return fail(fault('units-differ', { before: a.sweep.signalUnit, after: b.sweep.signalUnit }));
  return ok({ result: resultOf(a, b, differencesOf(before, after, a, b)), before: detailOf(a), after: detailOf(b) });
}

function resultOf(a: Study, b: Study, warnings: AnalysisWarning[]): ComparisonResult {
  const { pressureUnit, signalUnit } = b.sweep;
  const confidence = b.confidence;
  const together = confidence ** (1 / quantityCount);
  const was = quantitiesOf(a, pressureUnit, signalUnit);
  const now = quantitiesOf(b, pressureUnit, signalUnit);
  const change = (name: Exclude<ComparedQuantity, 'noise'>) => changeOf(was[name], now[name], together);
  const changes = {
    lowEdge: change('lowEdge'),
    highEdge: change('highEdge'),
    plateau: change('plateau'),
    windowWidth: change('windowWidth'),
    noise: noiseChange(a, b, signalUnit, together),
    lag: change('lag'),
  };
  const oldSetPoint = oldSetPointIn(a, b);
  return {
    schema: 'pilot-bench/comparison@1',
    pressureUnit,
    signalUnit,
    confidence,
    ...changes,
    ...(oldSetPoint && { oldSetPoint }),
    summary: inWords(changes, oldSetPoint, pressureUnit, signalUnit),
    warnings,
  };
}

function quantitiesOf(found: Study, pressureUnit: PressureUnit, signalUnit: SignalUnit) {
  const { interval, setup, sweep, lag } = found;
  const pressure = (value: number) => convertPressure(value, sweep.pressureUnit, pressureUnit);
  const signal = (value: number) => convertSignal(value, sweep.signalUnit, signalUnit) ?? Number.NaN;
  const edge = (side: 'low' | 'high'): Known => {
    const end = interval[side];
    if (!end?.bounded || !Number.isFinite(end.deviation)) return undefined;
    return {
      value: pressure(end.value),
      u: pressure(Math.hypot(end.deviation, pressureUncertainty(setup, sweep.pressureUnit, end.value))),
    };
  };
  const [lowEdge, highEdge] = [edge('low'), edge('high')];
  const windowWidth: Known = lowEdge &&
    highEdge && { value: highEdge.value - lowEdge.value, u: Math.hypot(lowEdge.u, highEdge.u) };
  const level = interval.plateau;
  const plateau: Known = {
    value: signal(level.value),
    u: signal(Math.hypot(level.deviation, signalUncertainty(setup, sweep.signalUnit, level.value))),
  };
  return { lowEdge, highEdge, windowWidth, plateau, lag: { value: lag.value, u: lag.deviation } as Known };
}

function changeOf(was: Known, now: Known, together: number): Change {
  if (!was || !now || !Number.isFinite(was.u + now.u))
    return { before: was?.value ?? null, after: now?.value ?? null, change: null, ci: null, significant: false };
  const change = now.value - was.value;
  const half = normalQuantile((1 + together) / 2) * Math.hypot(was.u, now.u);
  return {
    before: was.value,
    after: now.value,
    change,
    ci: [change - half, change + half],
    significant: Math.abs(change) > half,
  };
}

/**
 * Scatter on the plateau. A deviation from n independent readings has a relative uncertainty of 1 / sqrt(2 n), so the
 * logarithm of the ratio is judged (Kendall and Stuart, The Advanced Theory of Statistics, vol. 1, large samples).
 */
function noiseChange(a: Study, b: Study, unit: SignalUnit, together: number): Change {
  const was = convertSignal(a.steadiness.plateauSd, a.sweep.signalUnit, unit) ?? Number.NaN;
  const now = convertSignal(b.steadiness.plateauSd, b.sweep.signalUnit, unit) ?? Number.NaN;
  const degrees = Math.min(a.noiseDegrees, b.noiseDegrees);
  if (!(was > 0 && now > 0)) return { before: was, after: now, change: now - was, ci: null, significant: false };
  const u = Math.sqrt(1 / a.noiseDegrees + 1 / b.noiseDegrees);
  const half = studentQuantile((1 + together) / 2, Math.max(2, degrees)) * u;
  const ratio = log(now / was);
  return {
    before: was,
    after: now,
    change: now - was,
    ci: [was * (exp(ratio - half) - 1), was * (exp(ratio + half) - 1)],
    significant: Math.abs(ratio) > half,
  };
}

/** The pressure the burner was left at (or was advised) then, in the window of now. */
function oldSetPointIn(a: Study, b: Study): ComparisonResult['oldSetPoint'] {
  const { low, high } = b.window;
  const left = a.setup.asLeftPressure;
  const then = a.window;
  const advised = () =>
    then.low && then.high
      ? findSetPoint(then.low, then.high, a.setup.setPointRule ?? setupDefaults.setPointRule, a.fanOnly, a.makerRange)
          .value
      : undefined;
  const old = left ? convertPressure(left.value, left.unit, a.sweep.pressureUnit) : advised();
  if (old === undefined || !low || !high) return undefined;
  const value = convertPressure(old, a.sweep.pressureUnit, b.sweep.pressureUnit);
  return {
    value,
    marginLow: value - low.guarded,
    marginHigh: high.guarded - value,
    decision: decide(value, low, high),
  };
}

function inWords(
  changes: Record<ComparedQuantity, Change>,
  old: ComparisonResult['oldSetPoint'],
  pressureUnit: PressureUnit,
  signalUnit: SignalUnit,
): string[] {
  const sentences: string[] = [];
  const tell = (name: ComparedQuantity, subject: string, show: (value: number) => string, up: string, down: string) => {
    const { change, significant } = changes[name];
    if (significant && change !== null) sentences.push(`${subject} has ${change > 0 ? up : down} by ${show(change)}.`);
  };
  const inPressure = (value: number) => formatPressure(Math.abs(value), pressureUnit);
  const inSignal = (value: number) => formatSignal(Math.abs(value), signalUnit);
  tell('lowEdge', 'The low end', inPressure, 'moved up', 'moved down');
  tell('highEdge', 'The high end', inPressure, 'moved up', 'moved down');
  tell('windowWidth', 'The run of good signal', inPressure, 'become wider', 'become narrower');
  tell('plateau', 'The flame signal on the plateau', inSignal, 'risen', 'fallen');
  tell('noise', 'The scatter of the signal', inSignal, 'grown', 'shrunk');
  tell('lag', 'The delay of the signal', (value) => formatSeconds(Math.abs(value)), 'grown', 'shrunk');
  if (sentences.length === 0) sentences.push('Nothing has changed by more than the two sweeps can tell.');
  for (const [name, subject] of [
    ['lowEdge', 'The low end'],
    ['highEdge', 'The high end'],
  ] as const)
    if (changes[name].change === null)
      sentences.push(`${subject} cannot be compared: one of the sweeps did not reach it.`);
  if (old) sentences.push(oldInWords(old, pressureUnit));
  return sentences;
}

function oldInWords(old: NonNullable<ComparisonResult['oldSetPoint']>, unit: PressureUnit): string {
  const at = formatPressure(old.value, unit);
  const least = formatPressure(Math.min(old.marginLow, old.marginHigh), unit);
  const said = {
    pass: `The old setting of ${at} still has its margin: ${least} on its nearer side.`,
    'conditional-pass': `The old setting of ${at} is inside today's window, but within the doubt of its end.`,
    'conditional-fail': `The old setting of ${at} is just outside today's window, within the doubt of its end.`,
    fail: `The old setting of ${at} is outside today's window.`,
  };
  return said[old.decision];
}

function differencesOf(before: Capture, after: Capture, a: Study, b: Study): AnalysisWarning[] {
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
  const asked = setupDifferences(a.setup, b.setup);
  if (asked.length > 0)
    warnings.push({ code: 'setup-differs', message: `Not the same was asked in both sweeps: ${asked.join(', ')}.` });
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

/** Names of what was asked differently and moves the ends. */
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
