import type { AnalysisResult, AnalysisWarning } from '../../model/results/analysis-result.ts';
import { formatDuration, formatPressure, formatPressureRange, formatSignal } from '../../model/format.ts';
import { signalWithoutGas } from '../signal-without-gas.ts';
import { hasNoFlameResponse, isFlameUnseen, isPlateauUnknown, provisionalReasons } from '../provisional.ts';
import type { Study } from '../study.ts';
import { lagMarginShare } from '../sweep/flame/falls.ts';
import { type Level, plateauAt } from '../window/diagnostics/two-plateaus.ts';
import { offCenterWarnings } from './off-center.ts';
import { type OpenEnd, warning } from './warnings.ts';

const isLost = ({ flame }: Study['tracked']['spans'][number]): boolean => flame === 'lost';

/** What keeps every answer from being sure, before anything else. */
export function evidenceWarnings(study: Study): AnalysisWarning[] {
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
export function windowWarnings(study: Study, setPoint: AnalysisResult['setPoint']): AnalysisWarning[] {
  const { interval, window, sweep, lightOff } = study;
  const dip = study.dip ?? study.dipBeside;
  const at = (value: number) => formatPressure(value, sweep.pressureUnit);
  const warnings: AnalysisWarning[] = [];
  const withoutGas = signalWithoutGas(study);
  if (withoutGas !== undefined)
    warnings.push(
      warning('no-flame-response', { seen: 'without-gas', level: formatSignal(withoutGas, sweep.signalUnit) }),
    );
  else if (isFlameUnseen(study) && study.tracked.spans.some(isLost))
    warnings.push(warning('no-flame-response', { seen: 'moments' }));
  else if (interval.status === 'none' && !(interval.plateau.value > 0))
    warnings.push(warning('signal-not-positive', { plateau: formatSignal(interval.plateau.value, sweep.signalUnit) }));
  else if (isFlameUnseen(study)) warnings.push(warning('no-flame-response', { seen: 'nothing' }));
  else if (interval.status === 'none')
    warnings.push(
      warning('signal-below-required', {
        required: formatSignal(interval.required.value, sweep.signalUnit),
        plateau: formatSignal(interval.plateau.value, sweep.signalUnit),
      }),
    );
  else if (lightOff?.neverLit) warnings.push(warning('never-lit', { trials: lightOff.trials }));
  else if (lightOff?.low && lightOff.low.value === lightOff.high?.value)
    warnings.push(litAtOnePressure(study, lightOff.low, lightOff.high));
  else if (window.status === 'none') {
    const setting = window.evidence.filter((evidence) => evidence.sets).map((evidence) => evidence.message);
    warnings.push(warning('no-window', { why: setting.join(' ') }));
  }
  const { repeatedLosses } = study;
  // Of ends that are not known nothing more is said.
  const areEndsKnown = !isPlateauUnknown(study);
  if (areEndsKnown && interval.low?.bounded === false && repeatedLosses?.side !== 'low')
    warnings.push(warning('low-end-not-reached', openEnd(study, 'low', interval.low.value)));
  if (areEndsKnown && interval.high?.bounded === false && repeatedLosses?.side !== 'high')
    warnings.push(warning('high-end-not-reached', openEnd(study, 'high', interval.high.value)));
  if (hasNoFlameResponse(study) && withoutGas === undefined)
    warnings.push(warning('no-flame-response', { seen: 'level' }));
  if (repeatedLosses && interval.status !== 'none')
    warnings.push(
      warning('flame-drops-out', {
        times: repeatedLosses.losses.length,
        side: repeatedLosses.side,
        at: at(repeatedLosses.innermost),
      }),
    );
  if (areEndsKnown && dip)
    warnings.push(
      warning('signal-dips', {
        from: at(dip.from),
        to: at(dip.to),
        signal: formatSignal(dip.signal, sweep.signalUnit),
        required: formatSignal(interval.required.value, sweep.signalUnit),
        side: study.dip ? 'wider' : 'higher',
      }),
    );
  warnings.push(...plateauWarnings(study, setPoint));
  if (setPoint && setPoint.value <= 0) warnings.push(warning('set-point-below-zero', { setPoint: at(setPoint.value) }));
  if (setPoint) warnings.push(...offCenterWarnings(study, setPoint));
  if (setPoint?.provisional)
    warnings.push(warning('set-point-provisional', { why: provisionalReasons(study, setPoint.value).join(', and ') }));
  return warnings;
}

/** A failure nearer to what lit than this share of the good signal's width is close to it; farther out any burner fails. */
const closeShare = 0.1;

/** Lit at one pressure between two failures, which may lie anywhere out to where the signal ends, and beyond. */
function litAtOnePressure(
  { interval, tested, sweep }: Study,
  low: { value: number; failure: number },
  high: { failure: number },
): AnalysisWarning {
  const at = (value: number) => formatPressure(value, sweep.pressureUnit);
  const width = (interval.high?.value ?? tested[1]) - (interval.low?.value ?? tested[0]);
  const nearest = Math.min(low.value - low.failure, high.failure - low.value);
  return warning('lit-at-one-pressure', {
    at: at(low.value),
    below: at(low.failure),
    above: at(high.failure),
    isClose: nearest <= closeShare * width,
  });
}

/**
 * An end that was not found: the outermost pressure at which the signal is good, and how far the sweep went beyond it with readings that do
 * not tell, either because nobody knows whether a flame burned (`unclear`) or because they show the signal neither good nor bad (`weak`).
 */
function openEnd({ unclearPressures, tested, sweep }: Study, side: 'low' | 'high', good: number): OpenEnd {
  const by = side === 'low' ? -1 : 1;
  const margin = lagMarginShare * (tested[1] - tested[0]);
  const show = (value: number) => formatPressure(value, sweep.pressureUnit);
  const went = (pressures: readonly [number, number]) => pressures[side === 'low' ? 0 : 1];
  const beyond = (value: number, limit: number) => (value - limit) * by > margin;
  const end = { at: show(good) };
  if (beyond(went(tested), good)) return { ...end, went: show(went(tested)), why: 'weak' };
  if (unclearPressures && beyond(went(unclearPressures), went(tested)))
    return { ...end, went: show(went(unclearPressures)), why: 'unclear' };
  return end;
}

/** Where the signal has two plateaus: which of them the window and the set point mean. */
function plateauWarnings(
  { plateaus, interval, sweep }: Study,
  setPoint: AnalysisResult['setPoint'],
): AnalysisWarning[] {
  if (!plateaus) return [];
  const show = ({ from, to, signal }: Level) =>
    `${formatSignal(signal, sweep.signalUnit)} from ${formatPressureRange([from, to], sweep.pressureUnit)}`;
  const at = setPoint && plateauAt(plateaus, setPoint.value);
  const stands = at ? `The set point stands on the ${at === plateaus.higher ? 'higher' : 'lower'} one.` : '';
  const meant =
    plateaus.lower.signal < interval.required.value
      ? `The window is that of the higher one; on the lower one the signal is below what is required.`
      : `The window holds both. ${stands}`.trim();
  return [warning('two-plateaus', { higher: show(plateaus.higher), lower: show(plateaus.lower), meant })];
}
