import type { BurnerFacts } from '../burner/facts.ts';
import { type Curve, curveFamilies, shoulderAt } from '../burner/curves.ts';

export interface Draw {
  between: (a: number, b: number) => number;
  oneOf: <T>(values: readonly T[]) => T;
  chance: (share: number) => boolean;
}

/** Where turning back from an end of the sweep is usual: past the required signal, short of losing the flame. */
export function turningPoints(
  { between, chance }: Pick<Draw, 'between' | 'chance'>,
  { curve, flame }: BurnerFacts,
): number[] {
  const down = Math.max(shoulderAt(curve, -1, between(0.3, 0.8)), flame.lostBelow + 0.02);
  const up = Math.min(shoulderAt(curve, 1, between(0.3, 0.8)), flame.lostAbove - 0.02);
  return chance(0.5) ? [down, up] : [up, down];
}

/** Limits of the flame for a curve: it is lost where little of the signal is left, and lights well inside that. */
export function plainFlame({ between, chance }: Draw, curve: Curve, fan: number): BurnerFacts['flame'] {
  const lostBelow = Math.max(fan + 0.15, shoulderAt(curve, -1, between(0.1, 0.2)));
  const lostAbove = shoulderAt(curve, 1, between(0.1, 0.2));
  const width = curve.high - curve.low;
  return {
    lostBelow,
    lostAbove,
    returnsAbove: lostBelow + between(0.1, 0.4),
    returnsBelow: lostAbove - between(0.1, 0.4),
    returns: chance(0.6),
    lightsAbove: Math.max(shoulderAt(curve, -1, between(0.25, 0.6)), lostBelow + 0.02),
    lightsBelow: Math.min(curve.high - between(-0.1, 0.3) * width, lostAbove - 0.02),
    lightsBelowDelayed: curve.high - between(0.05, 0.35) * width,
    lightsIn: between(0.1, 0.7),
    blownOutAt: [],
    failsAt: [],
  };
}

export function plainBurner(draw: Draw): BurnerFacts {
  const { between, oneOf, chance } = draw;
  const fan = chance(0.2) ? 0 : between(0.02, 0.4);
  const low = fan + between(0.6, 1.9);
  const high = low + between(1.4, 4);
  const curve: Curve = {
    family: oneOf(curveFamilies.filter((family) => family !== 'cliff' && family !== 'hump')),
    low,
    high,
    lowWidth: between(0.03, 0.11),
    highWidth: between(0.04, 0.14),
    depth: between(0.1, 0.25),
    middle: low + (high - low) * between(0.4, 0.6),
    side: oneOf([-1, 1] as const),
  };
  return {
    curve,
    flame: plainFlame(draw, curve, fan),
    regulator: {
      springLow: Math.max(0.1, fan + 0.05),
      springHigh: high + 3,
      hysteresis: between(0, 0.06),
      followsIn: between(0.08, 0.35),
      creep: between(0, 0.015),
      creepS: between(5, 20),
      lockUp: between(0, 0.15),
      lockUpS: between(0.2, 0.8),
      droop: between(0, 0.01),
      hunting: between(0, 0.004),
      stickyS: 0,
    },
    valve: {
      openS: between(0.1, 0.5),
      closeS: between(0.05, 0.3),
      riseS: between(0.05, 0.3),
      fallS: between(0.1, 0.4),
      leak: { share: 0, fallS: 0.2, fromShut: Infinity },
    },
    fan: { only: fan, drift: between(0, 0.06), purgeTimes: 1, damperS: 1, own: between(1, 4), spinS: between(1, 3) },
    detector: {
      deadS: between(0.05, 0.5),
      lagS: between(0.2, 1.5),
      dark: chance(0.3) ? 0 : between(0, 0.03),
      sparkAdds: chance(0.5) ? 0 : between(0.01, 0.1),
      clip: Infinity,
      flicker: between(0.003, 0.02),
      shoulderFlicker: between(0.02, 0.12),
      flickerS: between(0.1, 1.5),
      gustEveryS: Infinity,
      warmUp: chance(0.6) ? 0 : between(0.01, 0.06),
      warmUpS: between(40, 200),
    },
    control: { failureS: Infinity, trialS: oneOf([10, 10, 10, 8, 15]), sparkForWholeTrial: chance(0.3) },
  };
}
