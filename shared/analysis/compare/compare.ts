import {
  type AnalysisWarning,
  comparedQuantities,
  type ComparisonDetail,
  type ComparisonResult,
} from '../../model/results/analysis-result.ts';
import type { Capture } from '../../model/capture.ts';
import { fault } from '../../model/faults.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import { convertPressure, sameSignalKind } from '../../model/units.ts';
import { exp, log } from '../../numerics/elementary.ts';
import { detailOf } from '../analyze.ts';
import { type Study, study } from '../study.ts';
import { decide, findSetPoint } from '../window/set-point.ts';
import { changesBetween } from './changes.ts';
import { summarize } from './summary.ts';
import { comparisonWarnings, oldSettingNotTested } from './warnings.ts';

/**
 * Compares two sweeps of the same burner: what has changed, by how much, and whether it is significant.
 *
 * Both are analyzed with their own setups. The intervals of all six changes hold together at `confidence` (Sidak 1967,
 * JASA 62, 626), so that nothing is called changed by chance in more than 1 - confidence of comparisons. The accuracy of
 * both meters counts as independent between the visits. Units of the result are those of the later sweep.
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
  const { confidence } = b.settings;
  // The sixth root of the confidence, in arithmetic that is alike in every engine.
  const eachConfidence = exp(log(confidence) / comparedQuantities.length);
  const changes = changesBetween(a, b, b.sweep, eachConfidence);
  const warnings = comparisonWarnings(before, after, a, b, changes.lag);
  return ok({ result: resultOf(a, b, changes, warnings), before: detailOf(a), after: detailOf(b) });
}

function resultOf(
  a: Study,
  b: Study,
  changes: ReturnType<typeof changesBetween>,
  warnings: AnalysisWarning[],
): ComparisonResult {
  const { pressureUnit, signalUnit } = b.sweep;
  const { confidence } = b.settings;
  const old = oldSetPointIn(a, b);
  const oldSetPoint = old === 'not-tested' ? undefined : old;
  return {
    schema: 'pilot-bench/comparison@1',
    pressureUnit,
    signalUnit,
    confidence,
    ...changes,
    ...(oldSetPoint && { oldSetPoint }),
    summary: summarize(changes, oldSetPoint, pressureUnit, signalUnit),
    warnings: old === 'not-tested' ? [...warnings, oldSettingNotTested] : warnings,
  };
}

/**
 * The pressure at which the burner was left (or the set point that was recommended) then, in the signal window of the later sweep: whether
 * the pilot lights there today, and what the maker allows, is not asked.
 */
function oldSetPointIn(a: Study, b: Study): ComparisonResult['oldSetPoint'] | 'not-tested' {
  const { low, high } = b.signalWindow;
  const then = a.window;
  const { setPointRule, fanOnly, makerRange } = a.settings;
  const recommended = () =>
    then.low && then.high ? findSetPoint(then.low, then.high, setPointRule, fanOnly, makerRange)?.value : undefined;
  const old = a.settings.asLeft ?? recommended();
  if (old === undefined || !low || !high) return undefined;
  const value = convertPressure(old, a.sweep.pressureUnit, b.sweep.pressureUnit);
  // Beyond the last pressure of a sweep that found no end there nobody knows what the pilot does.
  const isBeyond =
    (low.cause === 'tested-end' && value < low.guarded) || (high.cause === 'tested-end' && value > high.guarded);
  if (isBeyond) return 'not-tested';
  return {
    value,
    marginLow: value - low.guarded,
    marginHigh: high.guarded - value,
    decision: decide(value, low, high),
  };
}
