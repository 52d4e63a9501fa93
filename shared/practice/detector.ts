import type { Random } from '../numerics/random.ts';
import type { FlameCurve } from './flame-curve.ts';
import { flameFraction, flickerLevel } from './flame-curve.ts';
import { decay, lagStep } from './response.ts';

/** A simulated flame detector with its amplifier; signals in V. */
export interface DetectorParameters {
  deadS: number;
  lagS: number;
  /** Signal from the ignition spark alone. */
  sparkPickUp: number;
  /** Standard deviation of the flame's flicker halfway down a shoulder, and well inside the window. */
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

/** Dead time, shutter, first-order lag, then the amplifier's maximum. `stepS` must be the same in every step. */
export function createDetector(
  parameters: DetectorParameters,
  curve: FlameCurve,
  start: { pressure: number; stepS: number },
  random: Random,
): Detector {
  const { flickerS, selfCheck } = parameters;
  const flameSignal = (pressure: number): number => curve.amplitude * flameFraction(curve, pressure);
  // Ring buffer of the flame signal over the dead time.
  const ring = new Float64Array(Math.max(1, Math.round(parameters.deadS / start.stepS))).fill(
    flameSignal(start.pressure),
  );
  let next = 0;
  let lagged = flameSignal(start.pressure);
  let flicker = random.normal();
  // The first check is somewhere inside the first period.
  let untilCheckS = selfCheck ? selfCheck.everyS * (0.3 + 0.6 * random.uniform()) : Number.POSITIVE_INFINITY;

  return {
    step(stepS, { pressure, flame, spark }) {
      // Ornstein-Uhlenbeck process of unit variance, exact for any step.
      const correlation = decay(stepS, flickerS);
      flicker = correlation * flicker + Math.sqrt(1 - correlation * correlation) * random.normal();
      const flickerSd =
        parameters.flickerInside * flameFraction(curve, pressure) +
        parameters.flickerShoulder * flickerLevel(curve, pressure);
      const now =
        (flame ? Math.max(0, flameSignal(pressure) + flickerSd * flicker) : 0) + (spark ? parameters.sparkPickUp : 0);

      const delayed = ring[next] ?? now;
      ring[next] = now;
      next = (next + 1) % ring.length;

      untilCheckS -= stepS;
      if (selfCheck && untilCheckS <= -selfCheck.forS) untilCheckS += selfCheck.everyS;
      const isShuttered = untilCheckS <= 0;
      lagged += ((isShuttered ? 0 : delayed) - lagged) * lagStep(stepS, parameters.lagS);
      return Math.min(curve.dark + lagged, curve.ceiling);
    },
  };
}
