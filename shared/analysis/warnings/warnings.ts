import { otherSources } from '../../model/faults.ts';
import type { AnalysisWarning } from '../../model/results/analysis-result.ts';

/** What an analysis may warn of: the code for programs, the sentence for people, made from the values it names. */
/** An end that was not found: the outermost pressure with a good signal, and where the sweep went beyond it with readings that do not tell. */
export interface OpenEnd {
  at: string;
  went?: string;
  /** `unclear`: whether a flame burned is not known. `weak`: it burned, good at no time and not known to be bad. */
  why?: 'unclear' | 'weak';
}

function endNotKnown({ at, went, why }: OpenEnd, side: string, way: string, beyond: string): string | undefined {
  if (went === undefined) return undefined;
  return why === 'weak'
    ? `The ${side} end is not known: the signal is good at ${at}, and the readings ${beyond} it, ${way} to ${went}, do not show where it ends. Sweep there again slowly.`
    : `The ${side} end is not known: the sweep went ${way} to ${went}, but its readings ${beyond} ${at} do not tell whether gas was shut or the flame lost, and were left out. Enter the fan-only pressure, or sweep there again more slowly.`;
}

const sentences = {
  'gas-unknown': (f: { at: string }) =>
    `At ${f.at} into the capture the flame went out while the pressure fell, and the readings do not tell whether the pilot valve shut or the flame was lost with gas on. Enter the fan-only pressure; until then the ends are provisional.`,
  'low-end-not-reached': (end: OpenEnd) =>
    endNotKnown(end, 'low', 'down', 'below') ??
    `The low end was not reached: the signal is still good at the lowest tested pressure, ${end.at}. Sweep lower if the maker allows it.`,
  'high-end-not-reached': (end: OpenEnd) =>
    endNotKnown(end, 'high', 'up', 'above') ??
    `The high end was not reached: the signal is still good at the highest tested pressure, ${end.at}. The regulator's screw may end before the pilot's window does.`,
  'plateau-unknown': (f: { plateau: string; from: string; to: string }) =>
    `The plateau of ${f.plateau} is known to ${f.from} to ${f.to} only, a range wider than itself. The ends that follow from it are not known, so there is no set point.`,
  'sweeps-contradict': (f: { from: string; to: string }) =>
    `Between ${f.from} and ${f.to} one sweep of this capture shows a good signal and another does not. Find out what changed, then sweep again.`,
  'hours-apart': (f: { readings: number }) =>
    `${f.readings} readings lie hours or years away from the others: recording paused that long, or a clock jumped. They were left out; if they belong to the visit, analyze them as a capture of their own.`,
  'no-window': (f: { why: string }) => `No pressure satisfies all the evidence. ${f.why}`,
  'lit-at-one-pressure': (f: { at: string; below: string; above: string; isClose: boolean }) =>
    `Between failures at ${f.below} and ${f.above} it lit at one pressure only, ${f.at}, which is not a window. ${f.isClose ? 'Find out why it failed so close to it.' : 'What lies between was not tried.'}`,
  'signal-below-required': (f: { required: string; plateau: string }) =>
    `The signal never reaches the required ${f.required}; its highest steady level is ${f.plateau}.`,
  'signal-not-positive': (f: { plateau: string }) =>
    `The signal is never above zero; its highest steady level is ${f.plateau}. Check the leads, the polarity and the range of the signal meter.`,
  'signal-dips': (f: { from: string; to: string; signal: string; required: string; side: 'wider' | 'higher' }) =>
    `Between ${f.from} and ${f.to} the signal dips to ${f.signal}, below the required ${f.required}, though it is good on both sides. Find out why; the window is ${f.side === 'wider' ? 'the wider side' : 'the side with the highest signal'}.`,
  'no-flame-response': (f: { seen: 'nothing' | 'moments' | 'level' } | { seen: 'without-gas'; level: string }) =>
    f.seen === 'nothing'
      ? 'No flame was seen: the signal stayed as dark at every tested pressure, so there is no set point.'
      : f.seen === 'moments'
        ? 'A flame was seen for moments only: it went out before its signal had built up, so there is no set point.'
        : f.seen === 'without-gas'
          ? `The signal stood at ${f.level} with the pilot gas shut as well, so it shows no flame, and there is no set point. ${otherSources}`
          : 'The signal hardly changed over all tested pressures. It may show no flame at all: enter the minimum flame signal, and sweep further.',
  'set-point-provisional': (f: { why: string }) => `The set point is provisional, because ${f.why}.`,
  'set-point-off-center': (f: {
    at: string;
    low: string;
    high: string;
    side: string;
    from: string;
    evidence: string;
  }) =>
    `The set point of ${f.at} is outside the middle third of the window of ${f.low} to ${f.high}, because the ${f.side} end is certain only from ${f.from} on. ${f.evidence} Sweep there again slowly, or with a better manometer.`,
  'fan-only-above-low-end': (f: { fanOnly: string; low: string }) =>
    `The fan-only pressure of ${f.fanOnly} is not below the low end of the window, ${f.low}: there, no gas would flow. Measure both again.`,
  'set-point-below-zero': (f: { setPoint: string }) =>
    `The set point of ${f.setPoint} is not above atmospheric pressure. Check the manometer's zero and which of its ports the hose is on before setting anything.`,
  'fan-only-above-window': (f: { fanOnly: string; high: string }) =>
    `The fan-only pressure of ${f.fanOnly} is not below the high end of the window, ${f.high}: no gas would flow, so there is no set point by gas flow. Measure both again.`,
  'fan-only-above-set-point': (f: { fanOnly: string; setPoint: string }) =>
    `The fan-only pressure of ${f.fanOnly} is not below the set point, ${f.setPoint}: no gas would flow. Measure both again before setting anything.`,
  'ratio-of-gauge-pressures': (f: { fanOnly: string }) =>
    `The set point splits the ratio of the pressures as read; the fan-only pressure of ${f.fanOnly} was not subtracted. The split by equal gas flow subtracts it.`,
  'fan-only-not-as-read': (f: { entered: string; read: string; side: 'below' | 'above' }) =>
    f.side === 'below'
      ? `A fan-only pressure of ${f.entered} was entered, but the manometer rested at ${f.read}, below it. With the fan running it cannot show less: read it again with the pilot valve shut, and enter that.`
      : `A fan-only pressure of ${f.entered} was entered, but with gas shut the manometer never rested lower than ${f.read}: another pressure was entered than was read, the manometer's zero has shifted, or the pilot valve leaks. Zero the manometer and read again with the valve shut; if it still stands above, have the valve tested for leakage as its maker says.`,
  'fan-only-unknown': () =>
    'The set point splits the gas flow, but the fan-only pressure is not known. It was taken as zero; shut the pilot valve with the fan running and enter what the manometer shows.',
  'maker-range-costs': (f: { without: string; margin: string; withRange: string }) =>
    `Without the maker's range the even split would be at ${f.without} with a margin of ${f.margin}. The maker's range wins; the margin is ${f.withRange}.`,
  'outside-tested': () => "Part of the maker's range was not tested in this sweep.",
  'few-light-offs': (f: { lit: number; trials: number; at: string }) =>
    `${f.lit} of ${f.trials} light-off trials lit, at all pressures together. ${f.at}`,
  'light-off-not-proved': (f: { at: string; counts: string; missing: string }) =>
    `Light-off is not proved at ${f.at}: ${f.counts || 'no trial was made there'}.${f.missing && ` ${f.missing}`}`,
  'no-light-offs': () => 'No light-off trials are on record. A good signal does not prove that the pilot lights there.',
  'light-off-contradicts': (f: { at: string }) =>
    `A light-off failed at ${f.at}, although it lit both below and above. Find out why before trusting the window.`,
  'light-off-unclear': (f: { at: string }) =>
    `Light-off trials lit and failed at the same pressure, or nearly so: failed at ${f.at}. Until it is known why, there is no set point.`,
  'light-off-delay-limit': (f: { lit: string }) =>
    `It lit ${f.lit}: a limit of the spark delay. Gas collects until the spark; never delay it that long again.`,
  'light-off-failed-in-good-signal': (f: { at: string }) =>
    `A light-off failed at ${f.at}, where the signal is good. A flame that is seen well there does not prove that it lights there.`,
  'light-off-sets-end': (f: { failed: string; side: string; end: string; signalEnd: string }) =>
    `A light-off failed at ${f.failed} and none lit between there and ${f.end}. So the ${f.side} end of the window is at ${f.end}, although the signal is good as far as ${f.signalEnd}.`,
  'light-off-in-bad-signal': (f: { at: string }) =>
    `It lit at ${f.at}, where the steady signal is below what is required. Check the pressure that was recorded for that trial.`,
  'light-off-late': (f: { at: string; trialS: string }) =>
    `A flame was proved only after the pilot trial of ${f.trialS}: ${f.at}. The control would have locked out, so it counts as not lit.`,
  'light-off-elsewhere': (f: { trials: string }) =>
    `The manometer did not show the pressure of a trial about the time at which it is written down: ${f.trials}. Its pressure or its time is wrong: correct it, or discard it with a reason.`,
  'light-off-not-shown': (f: { shown: string }) =>
    `Entered as lit, but with gas on the meters show otherwise: ${f.shown} (min:s). Until that is corrected or explained, light-off is not proved there.`,
  'light-offs-at-once': (f: { at: string }) =>
    `More than one light-off trial is written down at ${f.at} (min:s). Each is counted: discard those that were not made.`,
  'light-off-spark-too-late': (f: { at: string; trialS: string }) =>
    `At ${f.at} the spark came only when the pilot trial of ${f.trialS} was over. Such a trial counts as not lit, whatever was written down: correct its times, or discard it with a reason.`,
  'light-off-purge-short': (f: { count: number; trials: number; wanted: string; at: string }) =>
    `Before ${f.count} of ${f.trials} light-off trials less purge is on record than the ${f.wanted} that this burner asks for: ${f.at}. They count, but gas may have been left from before.`,
  'light-off-before-spark': (f: { at: string }) =>
    `At ${f.at} a flame is written down as proved before its spark: one of the times is wrong. Time to prove counts from the gas.`,
  'flame-lost-in-good-signal': (f: { at: string }) =>
    `The flame was lost at ${f.at}, where it burned well otherwise. Find out why before trusting the window.`,
  'signal-fell': (f: { at: string }) =>
    `Where the signal is good it fell below what is required, and came back by itself: ${f.at}. A flame that falters there may go out. Find out why.`,
  'signal-stayed-low': (f: { at: string }) =>
    `The flame burned too weakly where its signal was good before: ${f.at}. It came back so after it was lost, or it sank. What burns well at a pressure one time and weakly another is not proved by either: find out why, and sweep again.`,
  'signal-scatters': (f: { share: string; weak: number; readings: number; from: string; to: string; below: string }) =>
    `Between ${f.from} and ${f.to}, where the curve is flat, ${f.share} of the readings (${f.weak} of ${f.readings}) are below ${f.below}. A control may take such a flame for lost. Find out why the signal scatters.`,
  'flame-drops-out': (f: { times: number; side: string; at: string }) =>
    `The flame dropped out and came back by itself ${f.times} times near the ${f.side} end, up to ${f.at}. The window ends there; how much farther in it may drop out is in the guard band.`,
  'never-lit': (f: { trials: number }) =>
    f.trials === 1 ? 'The only light-off trial did not light.' : `None of the ${f.trials} light-off trials lit.`,
  'doubt-exceeds-window': () =>
    'The uncertainty of the ends is larger than the window, so there is no set point. Sweep again, more slowly, down and up across both ends.',
  'clipped-plateau': (f: { at: string }) =>
    `The signal is clipped at the top of ${f.at}. The plateau says nothing about how far away the ends are.`,
  'signal-overload': (f: { top: string }) =>
    `The signal meter showed an overload above ${f.top}. The plateau is higher than it can show, and so may the required signal be. Set it to a higher range and sweep again.`,
  'signal-below-range': (f: { bottom: string }) =>
    `The signal meter shows nothing below ${f.bottom}. Readings there count as that or less.`,
  'self-check': (f: { period: string; width: string; pulses: number }) =>
    `The detector tests itself every ${f.period} s for about ${f.width} s (${f.pulses} pulses). These readings were left out.`,
  'lag-unknown': () =>
    'The lag of the signal behind the pressure cannot be determined from this sweep. Sweep down and up across both ends.',
  'signal-before-pressure': (f: { seconds: string }) =>
    `The flame signal comes ${f.seconds} before the pressure: the manometer is damped and follows later than the flame does, so the lag of the burner is not known. Reduce the damping of the manometer.`,
  'one-direction': () =>
    'The sweep crossed the ends in one direction only, so the lag of the signal may have moved them. Sweep down and up.',
  'fit-poor': () =>
    'No curve model follows the readings, so the ends are those of a free curve that only rises and then falls. Look at the plot before trusting them.',
  'signal-drifts': (f: { change: string; seconds: string }) =>
    `The signal drifted by ${f.change} in ${f.seconds} at the same pressures. Let detector and meter warm up, then sweep again.`,
  'spark-like-flame': (f: { spark: string; required: string }) =>
    `The spark alone gives ${f.spark}, not below the required ${f.required}: while it sparks, the signal cannot tell a flame. Judge each trial after the spark has ended, and check the detector and its leads.`,
  'minimum-signal-unit': (f: { minimum: string; signal: string }) =>
    `The minimum flame signal is given in ${f.minimum}, but the meter reads ${f.signal}. It was ignored; enter it in the meter's unit.`,
  'meter-fell-silent': (f: { meter: string; for: string }) =>
    `The ${f.meter} gave no number for ${f.for} while the other meter went on. What the pilot did then is not in this result.`,
  'two-plateaus': (f: { higher: string; lower: string; meant: string }) =>
    `The signal has two plateaus: ${f.higher} and ${f.lower}. ${f.meant} Find out why: a detector that sees two parts of the flame, or a flame that changes its shape.`,
  'meter-frozen': (f: { meter: string; value: string; from: string; to: string; times: number }) =>
    `The ${f.meter} repeated ${f.value} from ${f.from} to ${f.to} while the other meter went on${f.times > 1 ? ` (${f.times} times in all)` : ''}. It was frozen then; those readings were left out. Check its hold key, its battery and its hose or leads.`,
  'as-left-unseen': (f: { at: string; what: string }) =>
    `When the pressure as left was recorded, at ${f.at}, ${f.what}. Record it again with the flame burning.`,
  'as-left-elsewhere': (f: { at: string; shown: string; entered: string }) =>
    `When the pressure as left was recorded, at ${f.at}, the manometer showed ${f.shown}, not ${f.entered}. Record it again, at rest.`,
  'as-left-turned-since': (f: { at: string; shown: string; entered: string }) =>
    `The pressure was changed after as-left was recorded: until ${f.at} the flame burned at ${f.shown}, not at ${f.entered}. Set it again, or record as-left again where it stands.`,
  'as-left-weak': (f: { at: string; shown: string; required: string }) =>
    `When the pressure as left was recorded, at ${f.at}, the flame signal was ${f.shown}, below the required ${f.required}. Find out why, and record it again.`,
  'zero-shifted': (f: { before: string; beforeAt: string; after: string; afterAt: string }) =>
    `With the pilot gas shut the manometer showed ${f.before} at ${f.beforeAt} and ${f.after} at ${f.afterAt} (min:s): its zero has shifted, or the fan runs differently. What was read in between may be off by as much: zero the manometer and sweep again.`,
  'gas-not-shut-off': (f: { at: string; stood: string; fanOnly: string; for: string }) =>
    `After the valve closed at ${f.at} the pressure stood at ${f.stood} for ${f.for}, not at the fan-only ${f.fanOnly}: the valve leaks, or the manometer's zero has shifted. Zero the manometer, then have the valve tested for leakage as its maker says.`,
  'manometer-off': (f: { value: string; from: string; to: string }) =>
    `The manometer showed ${f.value} from ${f.from} to ${f.to} although there was a flame signal. Its hose was off, its tap shut, or the detector saw something other than a flame; those readings were left out.`,
  'unlit-trial-discarded': (f: { trials: string }) =>
    `Discarded by the technician and not counted, with no flame on record: ${f.trials}.`,
  'unlit-trial-corrected': (f: { trials: string }) =>
    `Entered as not lit and corrected to lit by the technician: ${f.trials}.`,
  'trial-discarded': (f: { trials: string }) => `Discarded by the technician and not counted: ${f.trials}.`,
  'sweep-discarded': (f: { sweeps: string }) => `Discarded by the technician and left out: ${f.sweeps}.`,
  'gas-shut': () => 'The pilot gas was shut for part of the recording. Those readings were left out.',
} as const;

/** A code that programs may rely on. */
export type WarningCode = keyof typeof sentences;
/** Every code that an analysis may warn with. */
export const warningCodes = Object.keys(sentences) as WarningCode[];

/** What asks for nothing once light-off is proved at the setting: how it was found, and what a few trials can prove at most. */
const informative: ReadonlySet<string> = new Set<WarningCode>([
  'few-light-offs',
  'outside-tested',
  'maker-range-costs',
  'ratio-of-gauge-pressures',
  'clipped-plateau',
  'signal-below-range',
  'self-check',
  'trial-discarded',
  'sweep-discarded',
  'gas-shut',
  'light-off-sets-end',
]);

/**
 * Tells what must be known before trusting the result from what is merely worth knowing: once the light-off plan is met, what asks
 * for nothing is a finding, so that a warning stands out.
 */
export const sortWarnings = (
  all: readonly AnalysisWarning[],
  planMet: boolean,
): { warnings: AnalysisWarning[]; findings: AnalysisWarning[] } => ({
  warnings: all.filter(({ code }) => !(planMet && informative.has(code))),
  findings: all.filter(({ code }) => planMet && informative.has(code)),
});

type FactsOf<C extends WarningCode> = Parameters<(typeof sentences)[C]> extends [infer F] ? F : undefined;

/**
 * Makes a warning.
 *
 * @param facts  the values that its sentence names, formatted with their units; none where it names none
 */
export function warning<C extends WarningCode>(
  code: C,
  ...rest: FactsOf<C> extends undefined ? [] : [facts: FactsOf<C>]
): AnalysisWarning {
  const sentence = sentences[code] as (facts: unknown) => string;
  return { code, message: sentence(rest[0]) };
}
