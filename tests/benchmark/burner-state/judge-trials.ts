import { knownFrom } from '../../../shared/burner-state/chain/bins.ts';
import { halfPlateau } from '../../../shared/burner-state/chain/levels.ts';
import type { trackCapture } from '../../../shared/burner-state/track.ts';
import type { MeasuredTrial } from '../../../shared/burner-state/trials/measure-trial.ts';
import { recognizeTrials } from '../../../shared/burner-state/trials/recognize-trials.ts';
import type { TrueTrial, Visit } from '../visit/types.ts';

/** Trials that there were and that were found, seconds of the capture. */
export interface TrialVerdict {
  true: number;
  found: number;
  /** Of those not found: a meter was silent or showed something else when the gas came on, so that only a hand can enter them. */
  unseen: number;
  inventedAt: number[];
  provedJudged: number;
  /** Not judged, since a meter was silent or showed something else when the gas came on. */
  provedUnseen: number;
  provedWrongAt: number[];
  /** Of those with a minimum signal, by which alone everybody means the same: lit said of one that was not, or the other way around. */
  resultJudged: number;
  resultWrongAt: number[];
}

/** The trials that are recognized with hindsight. */
export function trialsInHindsight({ capture, signalUnit }: Visit, tracked: ReturnType<typeof trackCapture>) {
  const known = knownFrom(capture.setup, signalUnit);
  return recognizeTrials(tracked.spans, capture.readings, {
    provingSignal: known.minimumSignal ?? halfPlateau(tracked.levels),
    trialSeconds: known.trialSeconds,
    burningPressure: tracked.levels.burningPressure,
    fanOnly: known.fanOnly,
  });
}

/**
 * Compares trials that were found with those that there were.
 *
 * @param isLive  found while the visit was recorded: without a minimum signal nobody knows then what half of the plateau will be, so the
 *                time to prove is judged only with one
 */
export function judgeTrials(visit: Visit, found: readonly MeasuredTrial[], isLive = false): TrialVerdict {
  const { truth, capture } = visit;
  const { minimumSignal, trialSeconds } = knownFrom(capture.setup, visit.signalUnit);
  const byMinimum = minimumSignal !== undefined;
  const meterS = typicalInterval(capture, 'pilot_pressure');
  const interval = typicalInterval(capture, 'flame_signal') + meterS;
  const matched = new Set<number>();
  let unseen = 0;
  let provedJudged = 0;
  let provedUnseen = 0;
  const provedWrongAt: number[] = [];
  let resultJudged = 0;
  const resultWrongAt: number[] = [];
  for (const trial of truth.trials) {
    const k = found.findIndex((one, i) => !matched.has(i) && Math.abs(one.gasS - trial.gas_s) < 2 + meterS);
    if (k < 0) {
      if (isUnseen(trial, truth)) unseen += 1;
      continue;
    }
    matched.add(k);
    const want = byMinimum ? trial.proved_s : trial.halfPlateau_s;
    const got = found[k]!;
    const endS = trial.gas_s + trialSeconds;
    const isAtEnd = trial.proved_s !== undefined && Math.abs(trial.proved_s - endS) < interval + 0.15;
    if (byMinimum && !isAtEnd && !isUnseen(trial, truth)) {
      resultJudged += 1;
      if (got.lit !== (trial.proved_s !== undefined && trial.proved_s < endS)) resultWrongAt.push(got.gasS);
    }
    if (isLive && !byMinimum) continue;
    if (want === undefined || got.provedS === undefined || got.isProofUnseen) continue;
    // Nobody can tell when gas came on that the manometer did not show.
    if (isUnseen(trial, truth)) {
      provedUnseen += 1;
      continue;
    }
    provedJudged += 1;
    if (Math.abs(got.provedS - got.gasS - (want - trial.gas_s)) > interval + 0.15) provedWrongAt.push(got.gasS);
  }
  return {
    true: truth.trials.length,
    found: matched.size,
    unseen,
    inventedAt: found.filter((_, i) => !matched.has(i)).map(({ gasS }) => gasS),
    provedJudged,
    provedUnseen,
    provedWrongAt,
    resultJudged,
    resultWrongAt,
  };
}

/** A zero that shifted is no such fault: gas that comes on still shows. */
const isUnseen = ({ gas_s }: TrueTrial, { meterFaults }: Visit['truth']): boolean =>
  meterFaults.some(({ kind, from_s, to_s }) => kind !== 'zero-shift' && from_s <= gas_s + 2 && to_s >= gas_s - 2);

/** Median seconds between the readings of a meter; 1 where it has fewer than two. */
function typicalInterval({ readings }: Visit['capture'], meter: 'pilot_pressure' | 'flame_signal'): number {
  const times = readings
    .filter(({ role }) => role === meter)
    .map(({ elapsedS }) => elapsedS)
    .sort((a, b) => a - b);
  const steps = times
    .slice(1)
    .map((t, i) => t - times[i]!)
    .sort((a, b) => a - b);
  return steps[steps.length >> 1] ?? 1;
}
