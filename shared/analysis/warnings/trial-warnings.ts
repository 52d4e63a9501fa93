import type { Trial } from '../../model/capture.ts';
import type { AnalysisWarning } from '../../model/results/analysis-result.ts';
import { formatElapsed, formatPressure, formatSeconds, formatSignal } from '../../model/format.ts';
import { listWords } from '../../model/list-words.ts';
import { isPurgeShort, purgeSecondsOf } from '../../model/trials/valid-trials.ts';
import { convertPressure } from '../../model/units.ts';
import { delayLimits, delayLimitWords } from '../../light-off/delay-limit.ts';
import { noSettingWords } from '../../light-off/count-words.ts';
import { describeProof, type LightOffProof } from '../light-off-proof.ts';
import type { Study } from '../study.ts';
import { isFlameUnseen } from '../provisional.ts';
import { madeElsewhere } from '../trials-elsewhere.ts';
import { trialsNotShown } from '../trials-not-shown.ts';
import { expandedUncertainty } from '../window/meter-uncertainty.ts';
import { warning } from './warnings.ts';

const noFlameWords = {
  out: 'no flame burned',
  unseen: 'a meter was silent or repeated itself, so that nobody saw what burned',
} as const;

/** What speaks against the pressure as left, one warning each. */
const asLeftWarnings = ({ asLeftDoubts, sweep, settings, interval }: Study): AnalysisWarning[] =>
  asLeftDoubts.map((doubt) => {
    const at = formatElapsed(doubt.atS);
    switch (doubt.what) {
      case 'elsewhere':
      case 'turned-since':
        return warning(`as-left-${doubt.what}`, {
          at,
          shown: formatPressure(doubt.shown, sweep.pressureUnit),
          entered: formatPressure(settings.asLeft!, sweep.pressureUnit),
        });
      case 'weak':
        return warning('as-left-weak', {
          at,
          shown: formatSignal(doubt.shown, sweep.signalUnit),
          required: formatSignal(interval.required.value, sweep.signalUnit),
        });
      default:
        return warning('as-left-unseen', { at, what: noFlameWords[doubt.what] });
    }
  });

/** The trials that were discarded or turned into a success: what does not count must be told beside what does, one without a flame above all. */
function discardWarnings({ discardedTrials, litByCorrection, sweep }: Study): AnalysisWarning[] {
  const told = (trials: Trial[]) =>
    trials
      .map(({ pressure, unit, reason }) => {
        const at = formatPressure(convertPressure(pressure, unit, sweep.pressureUnit), sweep.pressureUnit);
        return reason ? `the trial at ${at} (${reason})` : `the trial at ${at}`;
      })
      .join('; ');
  // Whether one without a flame failed or was cut short is not on record.
  const [lit, unlit] = [true, false].map((flame) => discardedTrials.filter((trial) => trial.lit === flame));
  return [
    ...(unlit!.length > 0 ? [warning('unlit-trial-discarded', { trials: told(unlit!) })] : []),
    ...(litByCorrection.length > 0 ? [warning('unlit-trial-corrected', { trials: told(litByCorrection) })] : []),
    ...(lit!.length > 0 ? [warning('trial-discarded', { trials: told(lit!) })] : []),
  ];
}

/** What light-off trials and lost flames contradict, and how little a few trials prove. */
export function trialWarnings(study: Study): AnalysisWarning[] {
  const { lightOff, sweep, settings, contradictions, litAndFailed } = study;
  const { failedWhereGood, litWhereBad, lostWhereGood, provedLate, provedBeforeSpark, sparkTooLate, atOnce } =
    contradictions;
  const at = (pressures: number[]) =>
    listWords([...new Set(pressures.map((p) => formatPressure(p, sweep.pressureUnit)))]);
  const always = [
    ...asLeftWarnings(study),
    ...discardWarnings(study),
    // Where no flame was seen none is said to have burned well.
    ...(lostWhereGood.length > 0 && !isFlameUnseen(study)
      ? [warning('flame-lost-in-good-signal', { at: at(lostWhereGood) })]
      : []),
    ...(provedLate.length > 0
      ? [
          warning('light-off-late', {
            at: provedLate.map((t) => `${formatSeconds(t.seconds)} at ${at([t.pressure])}`).join(', '),
            trialS: formatSeconds(settings.trialSeconds, 0),
          }),
        ]
      : []),
    ...elsewhereWarnings(study),
    ...notShownWarnings(study),
    ...(atOnce.length > 0 ? [warning('light-offs-at-once', { at: atOnce.map(formatElapsed).join(', ') })] : []),
    ...(sparkTooLate.length > 0
      ? [
          warning('light-off-spark-too-late', {
            at: at(sparkTooLate),
            trialS: formatSeconds(settings.trialSeconds, 0),
          }),
        ]
      : []),
    ...shortPurgeWarnings(study),
    ...(provedBeforeSpark.length > 0 ? [warning('light-off-before-spark', { at: at(provedBeforeSpark) })] : []),
  ];
  if (!lightOff || lightOff.neverLit) return always;
  const unclear = litAndFailed.amid;
  const saidOnce = (pressure: number) => !unclear.includes(pressure);
  const contradicting = lightOff.contradicting.filter(saidOnce);
  const limits = delayLimits(study.trials, sweep.pressureUnit, (pressure) =>
    expandedUncertainty(study.setup, sweep.pressureUnit, pressure),
  );
  const failed = failedWhereGood
    .filter(saidOnce)
    .filter((pressure) => !limits.some((limit) => limit.pressure === pressure));
  return [
    ...always,
    ...(unclear.length > 0 ? [warning('light-off-unclear', { at: at(unclear) })] : []),
    ...(contradicting.length > 0 ? [warning('light-off-contradicts', { at: at(contradicting) })] : []),
    ...(limits.length > 0
      ? [warning('light-off-delay-limit', { lit: delayLimitWords(limits, sweep.pressureUnit) })]
      : []),
    ...(failed.length > 0 ? [warning('light-off-failed-in-good-signal', { at: at(failed) })] : []),
    ...endsByFailures(study),
    ...(litWhereBad.length > 0 ? [warning('light-off-in-bad-signal', { at: at(litWhereBad) })] : []),
  ];
}

/** Trials before which gas came on too early. Before the first the control may have purged before anybody recorded. */
function shortPurgeWarnings({ trials, setup, sweep }: Study): AnalysisWarning[] {
  const first = Math.min(...trials.map(({ elapsedS }) => elapsedS ?? Infinity));
  const short = trials.filter((trial) => isPurgeShort(trial, setup) && trial.elapsedS !== first);
  if (short.length === 0) return [];
  const at = short.map(({ purgeS, pressure, unit }) => {
    const shown = formatPressure(convertPressure(pressure, unit, sweep.pressureUnit), sweep.pressureUnit);
    return `${formatSeconds(Math.floor(purgeS!), 0)} at ${shown}`;
  });
  const wanted = formatSeconds(purgeSecondsOf(setup), 0);
  return [warning('light-off-purge-short', { count: short.length, trials: trials.length, wanted, at: listWords(at) })];
}

/** Trials whose pressure the manometer did not show when they are said to have been made. */
function elsewhereWarnings(study: Study): AnalysisWarning[] {
  const { pressureUnit: unit } = study.sweep;
  const told = madeElsewhere(study, study.trials).map(
    ({ pressure, atS, nearest }) =>
      `${formatPressure(pressure, unit)} at ${formatElapsed(atS)} (min:s), where it came no nearer than ${formatPressure(nearest, unit)}`,
  );
  return told.length > 0 ? [warning('light-off-elsewhere', { trials: told.join('; ') })] : [];
}

/** Trials entered as lit whose flame no meter shows, or not well enough. */
function notShownWarnings(study: Study): AnalysisWarning[] {
  const { sweep, interval } = study;
  const told = trialsNotShown(study, study.trials).map(({ atS, what, most }) => {
    const at = `at ${formatElapsed(atS)}`;
    if (what === 'dark') return `no flame within the trial for ignition ${at}`;
    if (what === 'out-again') return `a flame that went out again ${at}`;
    const [shown, required] = [most, interval.required.value].map((signal) => formatSignal(signal, sweep.signalUnit));
    return `a signal of ${shown} at most, with ${required} required, ${at}`;
  });
  return told.length > 0 ? [warning('light-off-not-shown', { shown: listWords(told) })] : [];
}

/**
 * Ends of the window that are where it last lit because of a failure farther out than the signal is good: nothing else names that failure,
 * which moves the end, and the set point with it.
 */
function endsByFailures({ window, interval, trials, sweep, tolerance }: Study): AnalysisWarning[] {
  const at = (pressure: number) => formatPressure(pressure, sweep.pressureUnit);
  const failed = trials
    .filter(({ lit }) => !lit)
    .map(({ pressure, unit }) => convertPressure(pressure, unit, sweep.pressureUnit));
  return (['low', 'high'] as const).flatMap((side) => {
    const [end, signal] = [window[side], interval[side]];
    if (end?.cause !== 'light-off' || !signal) return [];
    const out = (pressure: number) => (side === 'low' ? -1 : 1) * pressure;
    const [nearest] = failed.filter((pressure) => out(pressure) > out(end.value)).toSorted((a, b) => out(a) - out(b));
    if (nearest === undefined || out(nearest) <= out(signal.value) || out(signal.value) - out(end.value) <= tolerance)
      return [];
    return [
      warning('light-off-sets-end', { failed: at(nearest), side, end: at(end.value), signalEnd: at(signal.value) }),
    ];
  });
}

/** What the trials prove of the setting, said once: that the plan is not met there, or how little a met plan proves. */
export function proofWarnings(study: Study, proof: LightOffProof): AnalysisWarning[] {
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
      at: words?.counts ? `They prove no more than this: at ${words.at} ${words.counts}.` : noSettingWords,
    }),
  ];
}
