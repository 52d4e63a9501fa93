import type { Random } from '../numerics/random.ts';
import type { FlameCurve } from './flame-curve.ts';
import { flameShare, restlessness } from './flame-curve.ts';
import { decay, lagStep } from './response.ts';

/** An invented flame detector with its amplifier; signals in V. */
export interface DetectorFacts {
  deadS: number;
  lagS: number;
  /** Signal that the ignition spark alone makes. */
  sparkPickUp: number;
  /** Standard deviation of the flame's flicker half way down a shoulder, and well inside the window. */
  flickerShoulder: number;
  flickerInside: number;
  /** Correlation time of the flicker. */
  flickerS: number;
  /** A self-checking detector closes a shutter every `everyS` for `forS`. */
  selfCheck?: { everyS: number; forS: number };
}

export interface Detector {
  /** The amplifier's output after `stepS` more. `pressure` is the pressure that drives the flow. */
  step(stepS: number, inputs: { pressure: number; flame: boolean; spark: boolean }): number;
}

/** Dead time, shutter, first-order lag, then the amplifier's ceiling. `stepS` must be the same in every step. */
export function createDetector(
  facts: DetectorFacts,
  curve: FlameCurve,
  start: { pressure: number; stepS: number },
  random: Random,
): Detector {
  const { flickerS, selfCheck } = facts;
  const seen = (pressure: number): number => curve.amplitude * flameShare(curve, pressure);
  // Ring of what the detector saw over the dead time.
  const ring = new Float64Array(Math.max(1, Math.round(facts.deadS / start.stepS))).fill(seen(start.pressure));
  let at = 0;
  let lagged = seen(start.pressure);
  let flicker = random.normal();
  // The first check is somewhere inside the first period.
  let toCheckS = selfCheck ? selfCheck.everyS * (0.3 + 0.6 * random.uniform()) : Number.POSITIVE_INFINITY;

  return {
    step(stepS, { pressure, flame, spark }) {
      // Ornstein-Uhlenbeck process of unit variance, exact for any step.
      const keep = decay(stepS, flickerS);
      flicker = keep * flicker + Math.sqrt(1 - keep * keep) * random.normal();
      const size =
        facts.flickerInside * flameShare(curve, pressure) + facts.flickerShoulder * restlessness(curve, pressure);
      const now = (flame ? Math.max(0, seen(pressure) + size * flicker) : 0) + (spark ? facts.sparkPickUp : 0);

      const before = ring[at] ?? now;
      ring[at] = now;
      at = (at + 1) % ring.length;

      toCheckS -= stepS;
      if (selfCheck && toCheckS <= -selfCheck.forS) toCheckS += selfCheck.everyS;
      const shuttered = toCheckS <= 0;
      lagged += ((shuttered ? 0 : before) - lagged) * lagStep(stepS, facts.lagS);
      return Math.min(curve.dark + lagged, curve.ceiling);
    },
  };
}
