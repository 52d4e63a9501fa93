import type { AnalysisResult, AnalysisWarning } from '../model/analysis-result.ts';
import {
  formatConfidence,
  formatDuration,
  formatElapsed,
  formatLowerBound,
  formatPressure,
  formatSeconds,
  formatSignal,
  formatSignalChange,
  signalUnitLabel,
} from '../model/format.ts';
import type { SweepSpan } from '../model/sweeps.ts';
import { sameSignalKind } from '../model/units.ts';
import { describeProof, type LightOffProof } from './light-off-proof.ts';
import { offCenterWarnings } from './off-center.ts';
import { isFlameUnseen, isPlateauUnknown, provisionalReasons } from './provisional.ts';
import { signalFellWarnings } from './signal-fell.ts';
import { fanOnlyReadWarnings, frozenWarnings, plateauWarnings } from './findings/what-readings-contradict.ts';
import type { Study } from './study.ts';
import { silentSeconds } from './sweep/silence.ts';
import { warning } from './warnings.ts';
import { isDriftRelevant } from './window/drift.ts';
import { splitEvenly } from './window/set-point.ts';

/** Everything a technician should know before trusting the result, the most serious first. */
export function warningsFor(
  study: Study,
  setPoint: AnalysisResult['setPoint'],
  proof: LightOffProof,
): AnalysisWarning[] {
  return [
    ...evidenceWarnings(study),
    ...windowWarnings(study, setPoint),
    ...signalFellWarnings(study),
    ...trialWarnings(study),
    ...proofWarnings(study, proof),
    ...fanOnlyReadWarnings(study),
    ...fanOnlyWarnings(study, setPoint),
    ...makerRangeWarnings(study, setPoint),
    ...dataWarnings(study),
  ];
}

/** What keeps every answer from being sure, before anything else. */
function evidenceWarnings(study: Study): AnalysisWarning[] {
  const { unclearS, interval, window, sweep, disagreement } = study;
  if (interval.status === 'none') return [];
  const signal = (value: number) => formatSignal(value, sweep.signalUnit);
  const pressure = (value: number) => formatPressure(value, sweep.pressureUnit);
  const { value, ci } = interval.plateau;
  return [
    ...(isPlateauUnknown(study)
      ? [warning('plateau-unknown', { plateau: signal(value), from: signal(ci[0]), to: signal(ci[1]) })]
      : []),
    ...(unclearS.length > 0 ? [warning('gas-unknown', { at: unclearS.map((s) => formatDuration(s)).join(', ') })] : []),
    ...(disagreement
      ? [warning('sweeps-contradict', { from: pressure(disagreement.from), to: pressure(disagreement.to) })]
      : []),
    ...(window.low && window.high && window.high.guarded <= window.low.guarded
      ? [warning('doubt-exceeds-window')]
      : []),
  ];
}

/** Why there is no window, which ends are open, and what keeps a set point from being final. */
function windowWarnings(study: Study, setPoint: AnalysisResult['setPoint']): AnalysisWarning[] {
  const { interval, window, sweep, tested, lightOff, dip } = study;
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
  const unseen = isFlameUnseen(study);
  if (unseen || (interval.status === 'open-both' && interval.required.basis === 'drop-fraction'))
    warnings.push(warning('no-flame-response', { unseen }));
  if (dip)
    warnings.push(
      warning('signal-dips', {
        from: at(dip.from),
        to: at(dip.to),
        signal: formatSignal(dip.signal, sweep.signalUnit),
        required: formatSignal(interval.required.value, sweep.signalUnit),
      }),
    );
  warnings.push(...plateauWarnings(study, setPoint));
  if (setPoint && setPoint.value <= 0) warnings.push(warning('set-point-below-zero', { setPoint: at(setPoint.value) }));
  if (setPoint) warnings.push(...offCenterWarnings(study, setPoint));
  if (setPoint?.provisional)
    warnings.push(warning('set-point-provisional', { why: provisionalReasons(study, setPoint.value).join(', and ') }));
  return warnings;
}

/** What light-off trials and lost flames contradict, and how little a few trials prove. */
function trialWarnings({ lightOff, sweep, settings, contradictions }: Study): AnalysisWarning[] {
  const { failedWhereGood, litWhereBad, lostWhereGood, provedLate } = contradictions;
  const at = (pressures: number[]) =>
    [...new Set(pressures.map((p) => formatPressure(p, sweep.pressureUnit)))].join(', ');
  const always = [
    ...(lostWhereGood.length > 0 ? [warning('flame-lost-in-good-signal', { at: at(lostWhereGood) })] : []),
    ...(provedLate.length > 0
      ? [
          warning('light-off-late', {
            at: provedLate.map((t) => `${formatSeconds(t.seconds)} at ${at([t.pressure])}`).join(', '),
            trialS: formatSeconds(settings.trialSeconds, 0),
          }),
        ]
      : []),
  ];
  if (!lightOff || lightOff.neverLit) return always;
  const { contradicting } = lightOff;
  return [
    ...always,
    ...(contradicting.length > 0 ? [warning('light-off-contradicts', { at: at(contradicting) })] : []),
    ...(failedWhereGood.length > 0 ? [warning('light-off-failed-in-good-signal', { at: at(failedWhereGood) })] : []),
    ...(litWhereBad.length > 0 ? [warning('light-off-in-bad-signal', { at: at(litWhereBad) })] : []),
  ];
}

/** What the trials prove of the setting, said once: that the plan is not met there, or how little a met plan proves. */
function proofWarnings(study: Study, proof: LightOffProof): AnalysisWarning[] {
  const { lightOff, settings } = study;
  if (!lightOff && settings.asLeft === undefined) return [warning('no-light-offs')];
  if (lightOff?.neverLit) return [];
  const words = describeProof(proof, study);
  if (words && !proof.progress?.met) return [warning('light-off-not-proved', words)];
  if (!lightOff) return [warning('no-light-offs')];
  return [
    warning('few-light-offs', {
      lit: lightOff.lit,
      trials: lightOff.trials,
      bound: formatLowerBound(lightOff.lowerBound),
      confidence: formatConfidence(settings.confidence),
      at: words?.counts ? ` At ${words.at} ${words.counts}.` : '',
    }),
  ];
}

/** A fan-only pressure that is impossible, or that the rule of the split ignores. */
function fanOnlyWarnings(
  { setup, settings, window, sweep }: Study,
  setPoint: AnalysisResult['setPoint'],
): AnalysisWarning[] {
  const { low, high } = window;
  if (!low || !high || low.guarded >= high.guarded) return [];
  const at = (value: number) => formatPressure(value, sweep.pressureUnit);
  const fanOnly = at(settings.fanOnly);
  if (!setPoint) return [warning('fan-only-above-window', { fanOnly, high: at(high.value) })];
  if (!settings.fanOnlyKnown) return setPoint.rule === 'equal-flow' ? [warning('fan-only-unknown')] : [];
  if (!setup.fanOnlyPressure) return [];
  return [
    ...(settings.fanOnly >= setPoint.value
      ? [warning('fan-only-above-set-point', { fanOnly, setPoint: at(setPoint.value) })]
      : settings.fanOnly >= low.value
        ? [warning('fan-only-above-low-end', { fanOnly, low: at(low.value) })]
        : []),
    ...(setPoint.rule === 'equal-ratio' && settings.fanOnly !== 0
      ? [warning('ratio-of-gauge-pressures', { fanOnly })]
      : []),
  ];
}

/** What the maker's range costs in margin, when it moves the split. */
function makerRangeWarnings(
  { settings, window, sweep, tested }: Study,
  setPoint: AnalysisResult['setPoint'],
): AnalysisWarning[] {
  const { makerRange, setPointRule, fanOnly } = settings;
  if (!makerRange || !setPoint || !window.low || !window.high) return [];
  const warnings: AnalysisWarning[] = [];
  if (makerRange.low < tested[0] || makerRange.high > tested[1]) warnings.push(warning('outside-tested'));
  const endWithout = (side: 'low' | 'high') => {
    const ends = window.evidence.filter((e) => e.side === side && e.cause !== 'maker-range').map((e) => e.value);
    return side === 'low' ? Math.max(...ends) : Math.min(...ends);
  };
  const [low, high] = [endWithout('low'), endWithout('high')];
  const split = splitEvenly(setPointRule, low, high, fanOnly);
  if (split < makerRange.low || split > makerRange.high) {
    const at = (value: number) => formatPressure(value, sweep.pressureUnit);
    warnings.push(
      warning('maker-range-costs', {
        without: at(split),
        margin: at(Math.min(split - low, high - split)),
        withRange: at(Math.min(setPoint.marginLow, setPoint.marginHigh)),
      }),
    );
  }
  return warnings;
}

/** A lag is unknown when its interval is this wide, seconds: about what was known of it before the sweep. */
const unknownLagS = 2;
/**
 * With less than this share of the readings on the way back the sweep is one way: a trembling hand turns back for moments only.
 */
const minWayBack = 1 / 20;
/** A meter that was silent for longer than any detector and meter lag, 3 s, may have missed a whole end. */
const longSilenceS = 3;

/** A sweep by its time, with the reason for which it was discarded. */
const describeSweep = ({ fromS, toS, reason }: SweepSpan): string =>
  `the sweep from ${formatElapsed(fromS)} to ${formatElapsed(toS)}${reason ? ` (${reason})` : ''}`;

/** What is wrong with the readings themselves. */
function dataWarnings(study: Study): AnalysisWarning[] {
  const { setup, sweep, curve, pairs, interval, lag, selfCheck, drift, leftOut, discarded } = study;
  const warnings: AnalysisWarning[] = [];
  if (study.outsideVisit > 0) warnings.push(warning('hours-apart', { readings: study.outsideVisit }));
  if (discarded.length > 0)
    warnings.push(warning('sweep-discarded', { sweeps: discarded.map(describeSweep).join('; ') }));
  const minimum = setup.minimumSignal;
  if (minimum && !sameSignalKind(minimum.unit, sweep.signalUnit))
    warnings.push(
      warning('minimum-signal-unit', {
        minimum: signalUnitLabel(minimum.unit),
        signal: signalUnitLabel(sweep.signalUnit),
      }),
    );
  if (!study.modelFits) warnings.push(warning('fit-poor'));
  if (drift && isDriftRelevant(drift, interval))
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
  if (lag.ci[1] - lag.ci[0] > unknownLagS) warnings.push(warning('lag-unknown'));
  const readingsWhile = (direction: number) => pairs.direction.filter((way) => way === direction).length;
  const [turningIn, turningOut] = [readingsWhile(1), readingsWhile(-1)];
  const anyEnd = interval.low?.bounded || interval.high?.bounded;
  if (anyEnd && Math.min(turningIn, turningOut) < (turningIn + turningOut) * minWayBack)
    warnings.push(warning('one-direction'));
  for (const [meter, silent] of [
    ['flame signal meter', silentSeconds(sweep.signal, sweep.pressure)],
    ['manometer', silentSeconds(sweep.pressure, sweep.signal)],
  ] as const)
    if (silent > longSilenceS) warnings.push(warning('meter-fell-silent', { meter, for: formatDuration(silent) }));
  warnings.push(...frozenWarnings(study));
  if (leftOut.gasShut + leftOut.relighting > 0) warnings.push(warning('gas-shut'));
  return warnings;
}
