import { trialsAt } from '../light-off/at-setting.ts';
import { unansweredDelay } from '../light-off/delay-limit.ts';
import type { AnalysisDetail, AnalysisResult } from '../model/results/analysis-result.ts';
import type { Capture } from '../model/capture.ts';
import { ok, type Outcome } from '../model/outcome.ts';
import { isProvedBeforeSpark } from '../model/trials/valid-trials.ts';
import type { Setup } from '../model/setup.ts';
import { convertPressure, convertSignal } from '../model/units.ts';
import { conformanceProbability } from '../numerics/conformance.ts';
import { decideAsLeft, decideWithoutWindow } from './as-left.ts';
import { explain } from './explain.ts';
import { type LightOffProof, proveLightOff } from './light-off-proof.ts';
import { lightingView } from './lighting-view.ts';
import {
  fellAt,
  hasNoFlameResponse,
  isDoubtful,
  isFlameUnseen,
  isPlateauUnknown,
  provisionalReasons,
} from './provisional.ts';
import { signalWithoutGas } from './signal-without-gas.ts';
import { type Study, study } from './study.ts';
import { madeElsewhere } from './trials-elsewhere.ts';
import { trialsNotShown } from './trials-not-shown.ts';
import { warningsFor } from './warnings/warnings-for.ts';
import { sortWarnings } from './warnings/warnings.ts';
import { findSetPoint } from './window/set-point.ts';

/**
 * Finds the window of a sweep and the set point in it: the result that other programs read, and what stands behind it.
 *
 * @param setup  another setup than the capture's own, to try
 * Fails with `no-pressure`, `no-signal`, `clocks-apart`, `too-few-pairs`, `one-pressure`. The same input and seed give the same digits.
 */
export function analyze(capture: Capture, setup: Setup = capture.setup): Outcome<AnalysisDetail> {
  const studied = study(capture, setup);
  return studied.ok ? ok(detailOf(studied.value)) : studied;
}

/** The result of a study with its background, in the units of the sweep. */
export function detailOf(studied: Study): AnalysisDetail {
  const { pairs, interval, window, steadiness, tested } = studied;
  const explanation = explain(studied);
  const result = resultOf(studied);
  const lighting = lightingView(studied, result);
  return {
    result,
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
    testedRange: tested,
    ...(lighting && { lighting }),
    noise: { plateauSd: steadiness.plateauSd },
    ...conformanceOf(studied),
    explanation,
  };
}

/**
 * How probable it is that the as-left pressure lies in the window. Nobody can tell where light-off trials contradict each other, nor where
 * one that lit and one that failed set an end: lighting ends somewhere between them, with no probability for where. The uncertainty of an
 * end includes that of the manometer already, with which the as-left pressure was read as well.
 */
function conformanceOf(studied: Study): Pick<AnalysisDetail, 'conformance'> {
  const { settings, window, litAndFailed } = studied;
  const { low, high, uncertainty } = window;
  if (litAndFailed.amid.length > 0) return {};
  if (settings.asLeft === undefined || !low || !high || !uncertainty) return {};
  if (low.cause === 'light-off' || high.cause === 'light-off') return {};
  const limits = [
    { value: low.value, u: uncertainty.low },
    { value: high.value, u: uncertainty.high },
  ] as const;
  return { conformance: { probability: conformanceProbability(settings.asLeft, ...limits) } };
}

/** The decision on the pressure as left; where no trial lit there, and so there is no window, by the signal's own. */
function decidedAsLeft(studied: Study, { progress, atAsLeft }: LightOffProof): Pick<AnalysisResult, 'asLeft'> {
  const { settings, window, signalWindow, lightOff, litAndFailed } = studied;
  const { asLeft } = settings;
  const neverLit = lightOff?.neverLit === true && atAsLeft !== undefined && progress?.failed === true;
  const there = atAsLeft
    ? trialsAt(studied.trials, studied.sweep.pressureUnit, atAsLeft.pressure, atAsLeft.tolerance)
    : [];
  const { low, high } = neverLit ? signalWindow : window;
  if (asLeft === undefined || signalWithoutGas(studied) !== undefined) return {};
  if (!low || !high) {
    const decided = decidedWithoutWindow(studied, asLeft);
    return decided ? { asLeft: { value: asLeft, ...decided } } : {};
  }
  return {
    asLeft: {
      value: asLeft,
      // Where nothing lights there is no window to be inside of.
      ...(!neverLit && { marginLow: asLeft - low.guarded, marginHigh: high.guarded - asLeft }),
      ...decideAsLeft(
        asLeft,
        { low, high },
        {
          // Where trials lit and failed amid the signal, lighting depends on more than the pressure, at the setting too. A later spark that
          // failed there leaves the rest of the trial for ignition in doubt.
          isProved:
            progress?.met === true &&
            litAndFailed.amid.length === 0 &&
            unansweredDelay(there) === undefined &&
            madeElsewhere(studied, there).length === 0 &&
            trialsNotShown(studied, there).length === 0 &&
            !there.some(isProvedBeforeSpark),
          hasFailed: progress?.failed === true,
          neverLit,
          isDoubtful:
            isDoubtful(studied) ||
            hasNoFlameResponse(studied) ||
            studied.asLeftDoubts.length > 0 ||
            fellAt(studied, asLeft),
        },
      ),
    },
  };
}

/** The decision on the pressure as left where there is no window; a sweep without a known flame says nothing of it. */
function decidedWithoutWindow(studied: Study, asLeft: number): ReturnType<typeof decideWithoutWindow> {
  if (isFlameUnseen(studied) || isPlateauUnknown(studied)) return undefined;
  const { window, interval, tested, tolerance } = studied;
  return decideWithoutWindow(asLeft, window, interval, [tested[0] - tolerance, tested[1] + tolerance]);
}

function resultOf(studied: Study): AnalysisResult {
  const { sweep, settings, interval, window, lightOff, leftOut, lag, hysteresis, litAndFailed } = studied;
  const { confidence } = settings;
  const bothEnds = window.low && window.high ? { low: window.low, high: window.high } : undefined;
  const split =
    bothEnds && !isPlateauUnknown(studied) && litAndFailed.amid.length === 0 && signalWithoutGas(studied) === undefined
      ? findSetPoint(bothEnds.low, bothEnds.high, settings.setPointRule, settings.fanOnly, settings.makerRange)
      : undefined;
  const setPoint = split && {
    ...split,
    provisional: split.provisional || provisionalReasons(studied, split.value).length > 0,
  };
  const end = (side: 'low' | 'high') => {
    const found = interval[side];
    return found && { value: found.value, ci: found.ci, bounded: found.bounded };
  };
  const [low, high] = [end('low'), end('high')];
  const proof = proveLightOff(studied, setPoint);
  return {
    schema: 'pilot-bench/analysis@1',
    pressureUnit: sweep.pressureUnit,
    signalUnit: sweep.signalUnit,
    confidence,
    readings: {
      pressure: sweep.counts.pressure,
      signal: sweep.counts.signal,
      flagged: sweep.counts.flagged,
      rejected: leftOut.spikes + leftOut.wrongTime,
    },
    lag_s: { value: lag.value, ci: lag.ci },
    plateau: { value: interval.plateau.value, ci: interval.plateau.ci },
    requiredSignal: interval.required,
    signalInterval: { status: interval.status, ...(low && { low }), ...(high && { high }) },
    window: { status: window.status, ...bothEnds },
    ...(setPoint && { setPoint }),
    ...decidedAsLeft(studied, proof),
    ...(lightOff && {
      lightOff: {
        trials: lightOff.trials,
        lit: lightOff.lit,
        lowerBound: lightOff.lowerBound,
        confidence,
        ...(proof.atSetPoint && { atSetPoint: proof.atSetPoint }),
        ...(proof.atAsLeft && { atAsLeft: proof.atAsLeft }),
        ...(proof.progress && { planMet: proof.progress.met }),
        model: studied.lighting,
      },
    }),
    ...(hysteresis !== undefined && { hysteresis: { pressure: Math.abs(hysteresis) } }),
    ...phasesOf(studied),
    ...flameEvents(studied),
    ...correctionsOf(studied),
    ...sortWarnings(warningsFor(studied, setPoint, proof), proof.progress?.met ?? false),
  };
}

/** What the burner did, and the fan-only pressure in the sweep's unit. */
function phasesOf({ tracked, sweep }: Study): Pick<AnalysisResult, 'phases' | 'fanOnlyPressure'> {
  const { spans, fanOnly } = tracked;
  return {
    ...(spans.length > 0 && { phases: spans.map((span) => ({ ...span })) }),
    fanOnlyPressure: fanOnly
      ? { value: convertPressure(fanOnly.value, 'inH2O', sweep.pressureUnit), basis: fanOnly.basis }
      : { basis: 'unknown' },
  };
}

/** The zeros of the meters, with their signs turned; absent where none was entered. */
function correctionsOf({ setup, sweep }: Study): Pick<AnalysisResult, 'corrections'> {
  const { pressureZero: zero, darkSignal } = setup;
  const dark = darkSignal && convertSignal(darkSignal.value, darkSignal.unit, sweep.signalUnit);
  if (!zero && dark === undefined) return {};
  return {
    corrections: {
      ...(zero && { pressure: -convertPressure(zero.value, zero.unit, sweep.pressureUnit) }),
      ...(dark !== undefined && { signal: -dark }),
    },
  };
}

/** Losses of a flame that came back, and excursions of the signal; absent where there are none. */
function flameEvents({ flameHysteresis, excursions }: Study): Pick<AnalysisResult, 'flameHysteresis' | 'excursions'> {
  return {
    ...(flameHysteresis.length > 0 && {
      flameHysteresis: flameHysteresis.map(({ side, lostAt, returned, isAtRest }) => ({
        side,
        lostAt,
        returnedAt: returned.value,
        ...(isAtRest && { atRest: true as const }),
      })),
    }),
    ...(excursions.length > 0 && {
      excursions: excursions.map(({ atS, ...rest }) => ({ at_s: atS, ...rest })),
    }),
  };
}
