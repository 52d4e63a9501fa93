import { type PlanProgress, planProgress } from '../light-off/plan.ts';
import { methodOf } from '../light-off/agreed-method.ts';
import { trialsAt } from '../light-off/at-setting.ts';
import { failedDelay } from '../light-off/delay-limit.ts';
import type { Advice, Candidate } from '../model/results/advice.ts';
import { formatMargin, formatPressure, formatSeconds } from '../model/format.ts';
import { candidatesOf } from './candidates.ts';
import { endOfMethod, methodCandidate } from './methods.ts';
import { type Side, sideOf } from './side.ts';
import { allowedRange, type Range, type Situation } from './situation.ts';
import {
  closingWords,
  contradictionWords,
  failedDelayWords,
  methodNames,
  methodWords,
  noneLitWords,
  noMethodWords,
  outsideWords,
} from './words.ts';

/**
 * Chooses the next light-off trial: first the plan at the setting, plain and then delayed, then outward from it on the side and by the step
 * that is expected to prove the most margin, or by the test of the threshold that was chosen where failures were agreed. Never outside the
 * maker's range, the agreed limits, the sweep or the guarded window; nothing where there is neither range nor limit, and nothing outward on
 * a side that none of them bounds; no delayed spark without an agreed longest delay, nor as late as one that
 * failed; a side that failed as often as agreed is not tried further, nor is the setting after any failure that nothing lit since.
 */
export function advise(situation: Situation): Advice {
  const { setting, plan, trials, trialSeconds, unit } = situation;
  const progress = planProgress(
    plan,
    trials,
    setting ? { unit, ...setting } : { unit, pressure: Number.NaN, tolerance: 0 },
    trialSeconds,
  );
  // Of a claim that is lost they count a new row, which no claim allows: the reason says so.
  const proof = {
    plainStillNeeded: Math.max(0, progress.plain.wanted - progress.plain.got),
    delayedStillNeeded: Math.max(0, progress.delayed.wanted - progress.delayed.got),
  };
  const base = { proof, shown: {}, candidates: [], notes: [...situation.notes] };
  const stop = (reason: string): Advice => ({ ...base, next: null, stop: true, reason });
  if (situation.obstacles.length > 0) return stop(situation.obstacles.join(' '));
  if (!setting && trials.length > 0 && trials.every(({ lit }) => !lit)) return stop(noneLitWords(trials.length));
  if (!setting)
    return stop('There is no set point and no pressure as left, so there is nothing to prove by light-off.');
  const outside = outsideWords(situation, setting, allowedRange(situation));
  if (outside) return stop(outside);

  const sides = [sideOf('low', situation, setting), sideOf('high', situation, setting)];
  const method = methodOf(situation.limits);
  base.notes.push(...contradictionWords(sides, unit, method !== undefined));
  Object.assign(base, { shown: shownBy(sides, setting.pressure) });
  const refused = refusal(situation, setting, progress);
  if (refused) return stop(refused);

  const byGain = (found: Candidate[]) => found.toSorted((a, b) => b.gain - a.gain);
  if (situation.limits.method && !method)
    base.notes.push(`${methodNames[situation.limits.method]} is not followed. ${noMethodWords}`);
  const tested = method ? byGain(sides.flatMap((side) => methodCandidate(method, side, situation, setting))) : [];
  const others = byGain(sides.flatMap((side) => candidatesOf(side, situation, setting)));
  const candidates = [...tested, ...others.filter(({ pressure }) => !tested.some((one) => one.pressure === pressure))];
  const go = (pressure: number, sparkDelay_s: number, reason: string): Advice => ({
    ...base,
    candidates,
    next: { pressure, sparkDelay_s, reason },
    stop: false,
    reason,
  });
  const at = `${formatPressure(setting.pressure, unit)}, ${setting.words}`;
  const wanted = (n: number, kind: string) =>
    `The plan needs ${n} more ${n === 1 ? 'trial' : 'trials'} ${kind} at ${at}, without a failure.`;
  if (proof.plainStillNeeded > 0)
    return go(setting.pressure, 0, wanted(proof.plainStillNeeded, 'with the spark at once'));
  const there = trialsAt(trials, unit, setting.pressure, setting.tolerance);
  if (!there.some(({ lit }) => lit))
    return go(setting.pressure, 0, `No trial has lit at ${at} yet, so the first is made there.`);
  if (proof.delayedStillNeeded > 0) {
    if (sides.every(({ failures }) => failures > 0))
      return stop(
        `It failed on both sides of ${at}. No delayed spark is advised between failures: find out why it failed first.`,
      );
    const delayS = delayFor(situation);
    const failed = delayS === undefined ? undefined : failedDelay(trials, there, delayS);
    if (delayS !== undefined && !failed)
      return go(
        setting.pressure,
        delayS,
        wanted(proof.delayedStillNeeded, `with the spark delayed by ${formatSeconds(delayS)}`),
      );
    base.notes.push(
      failed
        ? failedDelayWords(failed, at, unit)
        : `The plan needs a delayed spark at ${at}, but no longest delay of at least half of the trial for ignition, ${formatSeconds(trialSeconds / 2)}, was agreed: none is made.`,
    );
  }
  if (method && tested[0])
    return go(tested[0].pressure, 0, `${methodNames[method]}. ${methodWords(situation.limits.mostFailures)}`);
  const best = method ? undefined : candidates[0];
  if (best)
    return go(
      best.pressure,
      best.sparkDelay_s,
      `Of the trials further out this one is expected to prove the most margin, ${formatMargin(best.gain, unit)}, on the ${best.side} side of ${at}.`,
    );
  const endOfTest = method && ((side: Side) => endOfMethod(method, side, situation, setting));
  return stop(closingWords(sides, setting, proof.delayedStillNeeded, unit, endOfTest));
}

/** Why nothing may be tried at the setting anymore. */
function refusal(
  { plan, trials, unit, limits }: Situation,
  setting: NonNullable<Situation['setting']>,
  progress: PlanProgress,
): string | undefined {
  if (trials.length >= limits.mostFailures && trials.every(({ lit }) => !lit)) return noneLitWords(trials.length);
  const there = trialsAt(trials, unit, setting.pressure, setting.tolerance);
  const at = formatPressure(setting.pressure, unit);
  if (progress.failed && 'probability' in plan)
    return `A trial failed at ${at}, and the claim of the plan allows no failure: no further trial there meets it. Find out why it failed before any other.`;
  // However many failures were agreed, they are of the sides. Whoever found the cause and lit it again at the setting starts a new row.
  if (there.at(-1)?.lit === false)
    return `It did not light at ${at}, ${setting.words}. Purge in full and find out why before any further trial.`;
  return undefined;
}

/** The shortest delay that counts as delayed, half of the trial for ignition, seconds; undefined where no such delay was agreed. */
function delayFor({ limits, trialSeconds }: Situation): number | undefined {
  const shortest = trialSeconds / 2;
  return limits.longestDelayS !== undefined && limits.longestDelayS >= shortest ? shortest : undefined;
}

function shownBy(sides: readonly Side[], setting: number): Range {
  const shown = (name: 'low' | 'high') => sides.find((side) => side.name === name && side.proved > 0)?.proved;
  const [low, high] = [shown('low'), shown('high')];
  return { ...(low !== undefined && { low: setting - low }), ...(high !== undefined && { high: setting + high }) };
}
