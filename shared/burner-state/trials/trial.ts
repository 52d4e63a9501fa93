import { type Fault, fault } from '../../model/faults.ts';
import type { Alarm } from '../alarms.ts';
import { alarmFault } from '../permissions.ts';
import { purgeLeft } from '../purge.ts';

/** Longest spark delay that is taken, seconds, however long the trial for ignition is: gas flows unlit all that time. */
export const longestSparkDelay = 60;

/** What decides whether a trial may begin. Times are elapsed times of the capture, in seconds. */
export interface TrialRequest {
  nowS: number;
  /** The alarm that is on: gas may be flowing unlit. */
  alarm: Alarm | undefined;
  /** A trial is running already. */
  isRunning: boolean;
  /** End of the purge after the trial before; undefined before the first trial. */
  purgeUntilS: number | undefined;
  /** Seconds of purge still missing as the meters show it; undefined where they cannot show it, and the marks alone count. */
  purgeMissingS?: number | undefined;
  /** Gas flows this long before the spark; 0: spark with the gas. */
  sparkDelayS: number;
  /** Length of the trial for ignition. */
  trialSeconds: number;
}

/**
 * Why a light-off trial must not begin now; undefined when it may. The host asks before it begins one.
 * Gives `flame-lost`, `gas-unlit`, `gas-not-shut`, `trial-running`, `purge-wait` or `spark-delay-too-long`.
 */
export function trialRefusal(request: TrialRequest): Fault | undefined {
  const { nowS, alarm, isRunning, purgeUntilS, purgeMissingS, sparkDelayS, trialSeconds } = request;
  if (alarm) return alarmFault(alarm);
  if (isRunning) return fault('trial-running');
  const left = Math.max(purgeLeft(purgeUntilS, nowS), purgeMissingS ?? 0);
  if (left > 0) return fault('purge-wait', { seconds: Math.ceil(left) });
  return sparkDelayRefusal(sparkDelayS, trialSeconds);
}

/** Why a spark must not be delayed for so long; undefined when it may. A spark after the trial's end would light gas that should be shut. */
export function sparkDelayRefusal(sparkDelayS: number, trialSeconds: number): Fault | undefined {
  const longest = Math.min(trialSeconds, longestSparkDelay);
  return sparkDelayS >= 0 && sparkDelayS < longest ? undefined : fault('spark-delay-too-long', { seconds: longest });
}

/** What the technician must do now in a trial that began `elapsedS` ago. */
export type TrialPhase = 'gas-first' | 'spark-now' | 'spark' | 'over';

/** Seconds for which "spark now" stays: long enough to read it, and to act, from three meters away. */
const promptSeconds = 2;

/**
 * The phase of a running trial. All in seconds.
 *
 * @param trialSeconds  length of the trial for ignition; afterwards gas and spark must be off
 */
export function trialPhase(elapsedS: number, sparkDelayS: number, trialSeconds: number): TrialPhase {
  if (elapsedS >= trialSeconds) return 'over';
  if (elapsedS < sparkDelayS) return 'gas-first';
  return elapsedS < sparkDelayS + promptSeconds ? 'spark-now' : 'spark';
}
