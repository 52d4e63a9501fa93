import type { AnalysisDetail, AnalysisResult } from '../model/analysis-result.ts';
import type { Capture } from '../model/capture.ts';
import { ok, type Outcome } from '../model/outcome.ts';
import { type Setup, setupDefaults } from '../model/setup.ts';
import { convertPressure } from '../model/units.ts';
import { conformanceProbability } from '../numerics/conformance.ts';
import { explain } from './explain.ts';
import { decide, findSetPoint } from './window/set-point.ts';
import { type Study, study } from './study.ts';
import { warningsFor } from './warnings-for.ts';

/**
 * Finds the window of a sweep and the set point in it: the answer other programs read, and what stands behind it.
 *
 * @param setup  another setup than the capture's own, to try
 * Fails with `no-pressure`, `no-signal`, `too-few-pairs`, `one-pressure`. The same input and seed give the same digits.
 */
export function analyze(capture: Capture, setup: Setup = capture.setup): Outcome<AnalysisDetail> {
  const studied = study(capture, setup);
  return studied.ok ? ok(detailOf(studied.value)) : studied;
}

/** The answer and its background, from a study that is done. */
export function detailOf(found: Study): AnalysisDetail {
  const { pairs, interval, window, steadiness } = found;
  const explanation = explain(found);
  return {
    result: resultOf(found),
    pairs,
    curve: {
      pressure: interval.curve.pressure,
      signal: interval.curve.signal,
      low: interval.band.low,
      high: interval.band.high,
      model: explanation.model,
      residualSd: explanation.residualSd,
    },
    evidence: window.evidence,
    testedRange: found.tested,
    noise: { plateauSd: steadiness.plateauSd },
    ...conformanceOf(found),
    explanation,
  };
}

/** What was left at, in the unit of the sweep. */
const asLeftOf = ({ setup: { asLeftPressure: left }, sweep }: Study): number | undefined =>
  left && convertPressure(left.value, left.unit, sweep.pressureUnit);

/**
 * How probable it is that the as-left pressure lies in the window. The uncertainty of an end holds that of the manometer
 * already, with which the as-left pressure was read as well.
 */
function conformanceOf(found: Study): Pick<AnalysisDetail, 'conformance'> {
  const { low, high, uncertainty } = found.window;
  const value = asLeftOf(found);
  if (value === undefined || !low || !high || !uncertainty) return {};
  const limits = [
    { value: low.value, u: uncertainty.low },
    { value: high.value, u: uncertainty.high },
  ] as const;
  return { conformance: { probability: conformanceProbability(value, ...limits) } };
}

function resultOf(found: Study): AnalysisResult {
  const { sweep, setup, interval, window, lightOff } = found;
  const rule = setup.setPointRule ?? setupDefaults.setPointRule;
  const bothEnds = window.low && window.high ? { low: window.low, high: window.high } : undefined;
  const setPoint = bothEnds && findSetPoint(bothEnds.low, bothEnds.high, rule, found.fanOnly, found.makerRange);
  const asLeft = asLeftOf(found);
  const end = (side: 'low' | 'high') => {
    const found = interval[side];
    return found && { value: found.value, ci: found.ci, bounded: found.bounded };
  };
  const [low, high] = [end('low'), end('high')];
  return {
    schema: 'pilot-bench/analysis@1',
    pressureUnit: sweep.pressureUnit,
    signalUnit: sweep.signalUnit,
    confidence: found.confidence,
    readings: {
      pressure: sweep.counts.pressure,
      signal: sweep.counts.signal,
      flagged: sweep.counts.flagged,
      rejected: found.leftOut.spikes + found.leftOut.wrongTime,
    },
    lag_s: { value: found.lag.value, ci: found.lag.ci },
    plateau: { value: interval.plateau.value, ci: interval.plateau.ci },
    requiredSignal: interval.required,
    signalInterval: { status: interval.status, ...(low && { low }), ...(high && { high }) },
    window: { status: window.status, ...bothEnds },
    ...(setPoint && { setPoint }),
    ...(asLeft !== undefined &&
      bothEnds && {
        asLeft: {
          value: asLeft,
          marginLow: asLeft - bothEnds.low.guarded,
          marginHigh: bothEnds.high.guarded - asLeft,
          decision: decide(asLeft, bothEnds.low, bothEnds.high),
        },
      }),
    ...(lightOff && {
      lightOff: {
        trials: lightOff.trials,
        lit: lightOff.lit,
        lowerBound: lightOff.lowerBound,
        confidence: found.confidence,
      },
    }),
    ...(found.hysteresis !== undefined && { hysteresis: { pressure: Math.abs(found.hysteresis) } }),
    warnings: warningsFor(found, setPoint),
  };
}
