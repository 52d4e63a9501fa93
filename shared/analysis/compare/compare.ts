import { exp, log } from '../../numerics/elementary.ts';
import {
  type AnalysisWarning,
  comparedQuantities,
  type ComparisonDetail,
  type ComparisonResult,
} from '../../model/analysis-result.ts';
import type { Capture } from '../../model/capture.ts';
import { fault } from '../../model/faults.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import { setupDefaults } from '../../model/setup.ts';
import { convertPressure, sameSignalKind } from '../../model/units.ts';
import { detailOf } from '../analyze.ts';
import { changesOf } from './changes.ts';
import { comparisonWarnings, summarize } from './summary.ts';
import { decide, findSetPoint } from '../window/set-point.ts';
import { type Study, study } from '../study.ts';

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
  return ok({
    result: resultOf(a, b, comparisonWarnings(before, after, a, b)),
    before: detailOf(a),
    after: detailOf(b),
  });
}

function resultOf(a: Study, b: Study, warnings: AnalysisWarning[]): ComparisonResult {
  const { pressureUnit, signalUnit } = b.sweep;
  const confidence = b.confidence;
  // The sixth root of the confidence, in arithmetic that is alike in every engine.
  const together = exp(log(confidence) / comparedQuantities.length);
  const changes = changesOf(a, b, { pressureUnit, signalUnit }, together);
  const oldSetPoint = oldSetPointIn(a, b);
  return {
    schema: 'pilot-bench/comparison@1',
    pressureUnit,
    signalUnit,
    confidence,
    ...changes,
    ...(oldSetPoint && { oldSetPoint }),
    summary: summarize(changes, oldSetPoint, pressureUnit, signalUnit),
    warnings,
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
          ?.value
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
