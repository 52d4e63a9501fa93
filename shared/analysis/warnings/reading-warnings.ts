import type { AnalysisWarning } from '../../model/results/analysis-result.ts';
import {
  formatDuration,
  formatElapsed,
  formatPressure,
  formatSeconds,
  formatSignal,
  formatSignalChange,
  signalUnitLabel,
} from '../../model/format.ts';
import type { SweepSpan } from '../../model/sweeps.ts';
import { convertSignal, sameSignalKind } from '../../model/units.ts';
import type { Study } from '../study.ts';
import type { FrozenStretch } from '../sweep/meter-faults/frozen.ts';
import { silentSeconds } from '../sweep/meter-faults/silence.ts';
import { isDriftRelevant } from '../window/diagnostics/drift.ts';
import { warning } from './warnings.ts';

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

/** What the amplifier or the range of the signal meter hides. */
function rangeWarnings({ sweep, curve }: Study): AnalysisWarning[] {
  const { range, shape } = curve;
  const show = (value: number) => formatSignal(value, sweep.signalUnit);
  return [
    ...(sweep.overloadTop === undefined ? [] : [warning('signal-overload', { top: show(sweep.overloadTop) })]),
    ...(shape.clipped ? [warning('clipped-plateau', { at: 'the amplifier' })] : []),
    ...(range.top !== undefined && sweep.overloadTop === undefined
      ? [warning('clipped-plateau', { at: `the signal meter's range, ${show(range.top)}` })]
      : []),
    ...(range.bottom === undefined ? [] : [warning('signal-below-range', { bottom: show(range.bottom) })]),
  ];
}

/** What is wrong with the readings themselves. */
export function dataWarnings(study: Study): AnalysisWarning[] {
  const { setup, sweep, pairs, interval, lag, selfCheck, drift, leftOut, discarded, noPressure } = study;
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
  const spark = setup.sparkOnlySignal;
  const sparkSignal = spark && convertSignal(spark.value, spark.unit, sweep.signalUnit);
  if (sparkSignal !== undefined && sparkSignal >= interval.required.value)
    warnings.push(
      warning('spark-like-flame', {
        spark: formatSignal(sparkSignal, sweep.signalUnit),
        required: formatSignal(interval.required.value, sweep.signalUnit),
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
  warnings.push(...rangeWarnings(study));
  if (selfCheck)
    warnings.push(
      warning('self-check', {
        period: formatSeconds(selfCheck.periodS).replace(' s', ''),
        width: formatSeconds(selfCheck.widthS).replace(' s', ''),
        pulses: selfCheck.pulses,
      }),
    );
  if (lag.ci[1] - Math.max(0, lag.ci[0]) > unknownLagS) warnings.push(warning('lag-unknown'));
  else if (lag.ci[1] < 0) warnings.push(warning('signal-before-pressure', { seconds: formatSeconds(-lag.value, 2) }));
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
  const [off] = noPressure;
  if (off)
    warnings.push(
      warning('manometer-off', {
        value: formatPressure(0, sweep.pressureUnit),
        from: formatElapsed(off.fromS),
        to: formatElapsed(off.toS),
      }),
    );
  if (leftOut.gasShut + leftOut.relighting > 0) warnings.push(warning('gas-shut'));
  return warnings;
}

/** One warning for each meter that was frozen: the longest stretch, and how many there were. */
function frozenWarnings({ frozen, sweep }: Study): AnalysisWarning[] {
  const longest = (stretches: readonly FrozenStretch[]) =>
    stretches.reduce((a, b) => (b.toS - b.fromS > a.toS - a.fromS ? b : a));
  const about = (meter: string, stretches: readonly FrozenStretch[], show: (value: number) => string) => {
    if (stretches.length === 0) return [];
    const { fromS, toS, value } = longest(stretches);
    const [from, to] = [formatElapsed(fromS), formatElapsed(toS)];
    return [warning('meter-frozen', { meter, value: show(value), from, to, times: stretches.length })];
  };
  return [
    ...about('manometer', frozen.pressure, (value) => formatPressure(value, sweep.pressureUnit)),
    ...about('flame signal meter', frozen.signal, (value) => formatSignal(value, sweep.signalUnit)),
  ];
}
