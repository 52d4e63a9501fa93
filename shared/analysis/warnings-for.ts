import type { AnalysisResult, AnalysisWarning } from '../model/analysis-result.ts';
import {
  formatConfidence,
  formatDuration,
  formatLowerBound,
  formatPressure,
  formatSeconds,
  formatSignal,
  formatSignalChange,
  signalUnitLabel,
} from '../model/format.ts';
import { setupDefaults } from '../model/setup.ts';
import { sameSignalKind } from '../model/units.ts';
import type { Drift } from './window/drift.ts';
import { silentSeconds } from './sweep/silence.ts';
import { splitEvenly } from './window/set-point.ts';
import type { SignalInterval } from './window/signal-interval.ts';
import type { Study } from './study.ts';
import { warning } from './warnings.ts';

/** Everything a technician should know before trusting the answer, gravest first. */
export function warningsFor(found: Study, setPoint: AnalysisResult['setPoint']): AnalysisWarning[] {
  return [
    ...aboutWindow(found, setPoint),
    ...aboutTrials(found),
    ...aboutFanOnly(found, setPoint),
    ...aboutMakerRange(found, setPoint),
    ...aboutData(found),
  ];
}

function aboutWindow(
  { interval, window, sweep, tested, lightOff, dip }: Study,
  setPoint: AnalysisResult['setPoint'],
): AnalysisWarning[] {
  const at = (value: number) => formatPressure(value, sweep.pressureUnit);
  const warnings: AnalysisWarning[] = [];
  if (interval.status === 'none' && !(interval.plateau.value > 0))
    warnings.push(warning('signal-not-positive', { plateau: formatSignal(interval.plateau.value, sweep.signalUnit) }));
  else if (interval.status === 'none')
    warnings.push(
      warning('signal-below-required', {
        required: formatSignal(interval.required.value, sweep.signalUnit),
        plateau: formatSignal(interval.plateau.value, sweep.signalUnit),
      }),
    );
  else if (lightOff?.neverLit) warnings.push(warning('never-lit', { trials: lightOff.trials }));
  else if (lightOff?.low && lightOff.low.value === lightOff.high?.value)
    warnings.push(warning('lit-at-one-pressure', { at: at(lightOff.low.value) }));
  else if (window.status === 'none') {
    const setting = window.evidence.filter((evidence) => evidence.sets).map((evidence) => evidence.message);
    warnings.push(warning('no-window', { why: setting.join(' ') }));
  }
  if (interval.low?.bounded === false) warnings.push(warning('low-end-not-reached', { at: at(tested[0]) }));
  if (interval.high?.bounded === false) warnings.push(warning('high-end-not-reached', { at: at(tested[1]) }));
  if (interval.status === 'open-both' && interval.required.basis === 'drop-fraction')
    warnings.push(warning('no-flame-response'));
  if (dip)
    warnings.push(
      warning('signal-dips', {
        from: at(dip.from),
        to: at(dip.to),
        signal: formatSignal(dip.signal, sweep.signalUnit),
        required: formatSignal(interval.required.value, sweep.signalUnit),
      }),
    );
  if (setPoint && setPoint.value <= 0) warnings.push(warning('set-point-below-zero', { setPoint: at(setPoint.value) }));
  if (setPoint?.provisional) warnings.push(warning('set-point-provisional'));
  if (window.low && window.high && window.high.guarded - window.low.guarded <= 0)
    warnings.push(warning('doubt-exceeds-window'));
  return warnings;
}

function aboutTrials(found: Study): AnalysisWarning[] {
  const { lightOff, sweep, confidence, setup } = found;
  const { failedWhereGood, litWhereBad, lostWhereGood, provedLate } = found.contradictions;
  const at = (pressures: number[]) =>
    [...new Set(pressures.map((p) => formatPressure(p, sweep.pressureUnit)))].join(', ');
  const lost = lostWhereGood.length > 0 ? [warning('flame-lost-in-good-signal', { at: at(lostWhereGood) })] : [];
  if (!lightOff) return [...lost, warning('no-light-offs')];
  if (lightOff.neverLit) return lost;
  const { contradicting } = lightOff;
  return [
    ...lost,
    ...(contradicting.length > 0 ? [warning('light-off-contradicts', { at: at(contradicting) })] : []),
    ...(failedWhereGood.length > 0 ? [warning('light-off-failed-in-good-signal', { at: at(failedWhereGood) })] : []),
    ...(litWhereBad.length > 0 ? [warning('light-off-in-bad-signal', { at: at(litWhereBad) })] : []),
    ...(provedLate.length > 0
      ? [
          warning('light-off-late', {
            at: provedLate.map((t) => `${formatSeconds(t.seconds)} at ${at([t.pressure])}`).join(', '),
            trialS: formatSeconds(setup.pilotTrialSeconds ?? setupDefaults.pilotTrialSeconds, 0),
          }),
        ]
      : []),
    warning('few-light-offs', {
      lit: lightOff.lit,
      trials: lightOff.trials,
      bound: formatLowerBound(lightOff.lowerBound),
      confidence: formatConfidence(confidence),
    }),
  ];
}

/** A fan-only pressure that cannot be, or that the rule of the split leaves out. */
function aboutFanOnly(found: Study, setPoint: AnalysisResult['setPoint']): AnalysisWarning[] {
  const { setup, window, sweep, fanOnly: pressure } = found;
  if (!window.low || !window.high) return [];
  const at = (value: number) => formatPressure(value, sweep.pressureUnit);
  const fanOnly = at(pressure);
  if (window.low.guarded >= window.high.guarded) return [];
  if (!setPoint) return [warning('fan-only-above-window', { fanOnly, high: at(window.high.value) })];
  if (!setup.fanOnlyPressure) return setPoint.rule === 'equal-flow' ? [warning('fan-only-unknown')] : [];
  return [
    ...(pressure >= setPoint.value
      ? [warning('fan-only-above-set-point', { fanOnly, setPoint: at(setPoint.value) })]
      : pressure >= window.low.value
        ? [warning('fan-only-above-low-end', { fanOnly, low: at(window.low.value) })]
        : []),
    ...(setPoint.rule === 'equal-ratio' && pressure !== 0 ? [warning('ratio-of-gauge-pressures', { fanOnly })] : []),
  ];
}

/** What the maker's range costs in margin, when it moves the split. */
function aboutMakerRange(found: Study, setPoint: AnalysisResult['setPoint']): AnalysisWarning[] {
  const { makerRange, window, sweep, setup, tested } = found;
  if (!makerRange || !setPoint || !window.low || !window.high) return [];
  const warnings: AnalysisWarning[] = [];
  if (makerRange.low < tested[0] || makerRange.high > tested[1]) warnings.push(warning('outside-tested'));
  const without = (side: 'low' | 'high') => {
    const ends = window.evidence.filter((e) => e.side === side && e.cause !== 'maker-range').map((e) => e.value);
    return side === 'low' ? Math.max(...ends) : Math.min(...ends);
  };
  const [low, high] = [without('low'), without('high')];
  const rule = setup.setPointRule ?? setupDefaults.setPointRule;
  const free = splitEvenly(rule, low, high, found.fanOnly);
  if (free < makerRange.low || free > makerRange.high) {
    const at = (value: number) => formatPressure(value, sweep.pressureUnit);
    warnings.push(
      warning('maker-range-costs', {
        without: at(free),
        margin: at(Math.min(free - low, high - free)),
        withRange: at(Math.min(setPoint.marginLow, setPoint.marginHigh)),
      }),
    );
  }
  return warnings;
}

function aboutData(found: Study): AnalysisWarning[] {
  const { setup, sweep, curve, pairs, interval, lag, selfCheck } = found;
  const warnings: AnalysisWarning[] = [];
  const minimum = setup.minimumSignal;
  if (minimum && !sameSignalKind(minimum.unit, sweep.signalUnit))
    warnings.push(
      warning('minimum-signal-unit', {
        minimum: signalUnitLabel(minimum.unit),
        signal: signalUnitLabel(sweep.signalUnit),
      }),
    );
  if (!found.modelFits) warnings.push(warning('fit-poor'));
  const { drift } = found;
  if (drift && driftMatters(drift, interval))
    warnings.push(
      warning('signal-drifts', {
        change: formatSignalChange(drift.change, sweep.signalUnit),
        seconds: formatDuration(drift.overS),
      }),
    );
  if (curve.shape.clipped) warnings.push(warning('clipped-plateau'));
  if (selfCheck)
    warnings.push(
      warning('self-check', {
        period: formatSeconds(selfCheck.periodS).replace(' s', ''),
        width: formatSeconds(selfCheck.widthS).replace(' s', ''),
        pulses: selfCheck.pulses,
      }),
    );
  // As wide as two seconds: the delay is no better known than before the sweep.
  if (lag.ci[1] - lag.ci[0] > 2) warnings.push(warning('lag-unknown'));
  const bounded = interval.low?.bounded || interval.high?.bounded;
  // A hand that trembles turns back for moments only: one reading in twenty is no way back (common practice).
  const moving = (way: number) => pairs.direction.filter((direction) => direction === way).length;
  const [up, down] = [moving(1), moving(-1)];
  if (bounded && Math.min(up, down) < (up + down) / 20) warnings.push(warning('one-direction'));
  for (const [meter, silent] of [
    ['flame signal meter', silentSeconds(sweep.signal, sweep.pressure)],
    ['manometer', silentSeconds(sweep.pressure, sweep.signal)],
  ] as const)
    // Three seconds are longer than any meter lags (common practice): an end may have passed unseen.
    if (silent > 3) warnings.push(warning('meter-fell-silent', { meter, for: formatDuration(silent) }));
  if (found.leftOut.gasShut > 0) warnings.push(warning('gas-shut'));
  return warnings;
}

/** Beyond chance, and more than a fifth of the drop of the signal that sets the ends (common practice). */
function driftMatters(drift: Drift, { plateau, required }: SignalInterval): boolean {
  const drop = plateau.value - required.value;
  return drift.ci[0] * drift.ci[1] > 0 && drop > 0 && Math.abs(drift.change) > drop / 5;
}
