import { knownFrom } from '../../../shared/burner-state/chain/bins.ts';
import { halfPlateau } from '../../../shared/burner-state/chain/levels.ts';
import type { trackCapture } from '../../../shared/burner-state/track.ts';
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
}

/** Compares the trials that are recognized with hindsight with those that there were. */
export function judgeTrials(visit: Visit, tracked: ReturnType<typeof trackCapture>): TrialVerdict {
  const { truth, capture } = visit;
  const known = knownFrom(capture.setup, visit.signalUnit);
  const byMinimum = known.minimumSignal !== undefined;
  const provingSignal = known.minimumSignal ?? halfPlateau(tracked.levels);
  const found = recognizeTrials(tracked.spans, capture.readings, {
    provingSignal,
    trialSeconds: known.trialSeconds,
    burningPressure: tracked.levels.burningPressure,
    fanOnly: known.fanOnly,
  });
  const meterS = typicalInterval(capture, 'pilot_pressure');
  const interval = typicalInterval(capture, 'flame_signal') + meterS;
  const matched = new Set<number>();
  let unseen = 0;
  let provedJudged = 0;
  let provedUnseen = 0;
  const provedWrongAt: number[] = [];
  for (const trial of truth.trials) {
    const k = found.findIndex((one, i) => !matched.has(i) && Math.abs(one.gasS - trial.gas_s) < 2 + meterS);
    if (k < 0) {
      if (isUnseen(trial, truth)) unseen += 1;
      continue;
    }
    matched.add(k);
    const want = byMinimum ? trial.proved_s : trial.halfPlateau_s;
    const got = found[k]!;
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
