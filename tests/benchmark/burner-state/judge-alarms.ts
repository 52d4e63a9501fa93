import type { Span, TrueLoss, Visit } from '../visit/types.ts';
import type { RaisedAlarm } from './follow-live.ts';

/** What became of the losses of a visit and of its alarms. */
export interface AlarmVerdict {
  /**
   * For each loss of a proved flame that a detector told curve and lag could announce: seconds after that moment; Infinity when it was not
   * said.
   */
  lossDelays: number[];
  /** The same for flames that went out in the trial for ignition before they were proved. */
  unprovedDelays: number[];
  /** All losses, after a detector that is also told of the shutter, or that there is none. */
  lossDelaysToldShutter: number[];
  /** Alarms of any kind, and whether gas flowed without a flame, or nobody could know that it did not; see `isDanger`. */
  alarms: (RaisedAlarm & { danger: boolean })[];
}

/** An alarm may outlast the danger by what readings and lag take, seconds. */
const lateS = 3;

/** Stretches of closing gas, whatever the other states do meanwhile. */
function closings(truth: Visit['truth']): Span[] {
  const found: Span[] = [];
  for (const { gas, from_s, to_s } of truth.segments) {
    if (gas !== 'closing') continue;
    const last = found.at(-1);
    if (last && last.to_s === from_s) last.to_s = to_s;
    else found.push({ from_s, to_s });
  }
  return found;
}

/** Longest time in which gas runs out behind a tight valve, seconds: a line that takes longer feeds an unlit burner meanwhile. */
const runsOutS = 4;

/**
 * Whether shutting the gas was called for, whatever the alarm was named: a flame was lost and gas flowed; gas flowed through a valve that
 * was shut, or ran out for long, or flowed for longer than a trial, and nothing burned; or nothing burned and the manometer could not show
 * that gas was shut.
 */
function isDanger({ truth, capture }: Visit, atS: number): boolean {
  const within = (from: number, to: number | undefined) => atS >= from && atS <= (to ?? Infinity) + lateS;
  if (truth.losses.some(({ at_s, relitAt_s, gasShutAt_s }) => within(at_s, relitAt_s ?? gasShutAt_s))) return true;
  const trialS = capture.setup.pilotTrialSeconds ?? 10;
  const burns = (s: number) =>
    truth.segments.some(
      ({ from_s, to_s, flame }) =>
        from_s <= s && s < to_s && (flame === 'burning' || flame === 'unsteady' || flame === 'lighting'),
    );
  if (truth.trials.some(({ gas_s, lit, shut_s }) => !lit && within(gas_s + trialS, shut_s))) return true;
  if (burns(atS)) return false;
  return (
    closings(truth).some(({ from_s, to_s }) => to_s - from_s > runsOutS && within(from_s, to_s)) ||
    truth.leaks.some(({ from_s, to_s }) => within(from_s, to_s)) ||
    truth.meterFaults.some(
      ({ meter, kind, from_s, to_s }) => meter === 'pilot_pressure' && kind !== 'zero-shift' && within(from_s, to_s),
    )
  );
}

/** For each loss for which `earliest` gives a moment: how long after it an alarm said so, seconds. */
const lossDelays = (
  losses: readonly TrueLoss[],
  raised: readonly RaisedAlarm[],
  earliest: (loss: TrueLoss) => number | undefined,
): number[] =>
  losses.flatMap((loss) => {
    const earliest_s = earliest(loss);
    if (earliest_s === undefined) return [];
    const { at_s, gasShutAt_s } = loss;
    // An alarm that was on already stays on: it says this loss too.
    const before = losses.some((other) => other.at_s < at_s && (other.gasShutAt_s ?? Infinity) > at_s);
    if (before) return [];
    const until = Math.max(earliest_s + 1.5, gasShutAt_s ?? Infinity) + 1.5;
    const said = raised.find(({ fromS, toS }) => toS >= at_s && fromS < until);
    return [said === undefined ? Infinity : Math.max(0, said.fromS - earliest_s)];
  });

/** Judges the alarms that were raised during a visit. */
export function judgeAlarms(visit: Visit, raised: readonly RaisedAlarm[]): AlarmVerdict {
  const { losses } = visit.truth;
  const delays = (of: (loss: TrueLoss) => number | undefined) => lossDelays(losses, raised, of);
  return {
    lossDelays: delays(({ wasProved, earliestDetectable_s }) => (wasProved ? earliestDetectable_s : undefined)),
    unprovedDelays: delays(({ wasProved, earliestDetectable_s }) => (wasProved ? undefined : earliestDetectable_s)),
    lossDelaysToldShutter: delays(({ earliestToldShutter_s }) => earliestToldShutter_s),
    alarms: raised.map((alarm) => ({ ...alarm, danger: isDanger(visit, alarm.fromS) })),
  };
}
