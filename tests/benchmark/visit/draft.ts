import type { Random } from '../../../shared/numerics/random.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { curveFamilies } from './burner/curves.ts';
import type { BurnerFacts } from './burner/facts.ts';
import type { Instruments } from './simulated.ts';
import type { Site } from './technician/actions.ts';
import type { Plan } from './technician/plan.ts';
import type { MeterFault, Segment } from './types.ts';

/** A fault of a meter: for how long, and in which state of the burner it begins. */
export interface FaultPlan {
  meter: MeterFault['meter'];
  kind: MeterFault['kind'];
  seconds: number;
  during: (segment: Segment) => boolean;
  /** inH2O */
  by?: number;
}

/** What is varied while the facts of one visit are drawn. */
export interface Draft {
  between: (a: number, b: number) => number;
  oneOf: <T>(values: readonly T[]) => T;
  chance: (share: number) => boolean;
  burner: BurnerFacts;
  plan: Plan;
  turning: Site['turning'];
  instruments: Instruments;
  faults: FaultPlan[];
  /** What the technician enters and presses. */
  entered: {
    fanOnly: boolean;
    minimum: boolean;
    trialSeconds: boolean;
    marks: boolean;
    makerRange: boolean;
    asLeft: boolean;
  };
  setup: Setup;
}

export function plainDraft(random: Random): Draft {
  const between = (a: number, b: number) => a + (b - a) * random.uniform();
  const oneOf = <T>(values: readonly T[]): T => values[Math.floor(values.length * random.uniform())]!;
  const chance = (share: number) => random.uniform() < share;
  const fan = chance(0.2) ? 0 : between(0.02, 0.4);
  const low = fan + between(0.6, 1.9);
  const high = low + between(1.4, 4);
  const [lowWidth, highWidth] = [between(0.03, 0.11), between(0.04, 0.14)];
  const lostBelow = Math.max(fan + 0.15, low - between(3.5, 5) * lowWidth);
  const lostAbove = high + between(3.5, 5) * highWidth;
  const [backLow, backHigh] = [between(0.1, 0.4), between(0.1, 0.4)];
  const burner: BurnerFacts = {
    curve: {
      family: oneOf(curveFamilies.filter((family) => family !== 'cliff' && family !== 'hump')),
      low,
      high,
      lowWidth,
      highWidth,
      depth: between(0.1, 0.25),
      middle: low + (high - low) * between(0.4, 0.6),
      side: oneOf([-1, 1] as const),
    },
    flame: {
      lostBelow,
      lostAbove,
      returnsAbove: lostBelow + backLow,
      returnsBelow: lostAbove - backHigh,
      returns: chance(0.6),
      lightsAbove: low - between(0, 1) * lowWidth,
      lightsBelow: high - between(-0.1, 0.3) * (high - low),
      lightsBelowDelayed: high - between(0, 0.4) * (high - low),
      lightsIn: between(0.1, 0.7),
      failsAt: [],
    },
    regulator: {
      springLow: Math.max(0.1, fan + 0.05),
      springHigh: high + 3,
      hysteresis: between(0, 0.06),
      followsIn: between(0.08, 0.35),
      creep: between(0, 0.015),
      creepS: between(5, 20),
      lockUp: between(0, 0.15),
      lockUpS: between(0.2, 0.8),
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
    fan: { only: fan, drift: between(0, 0.06), own: between(1, 4), spinS: between(1, 3) },
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
  const setting = low + (high - low) * between(0.45, 0.6);
  // Turning points: past the required signal on both sides, still short of losing the flame.
  const lowEnd = low - between(0.5, 1.5) * lowWidth;
  const highEnd = high + between(0.5, 1.5) * highWidth;
  const typed = chance(0.6);
  return {
    between,
    oneOf,
    chance,
    burner,
    plan: {
      idleS: [between(8, 60), between(10, 60)],
      fanFromStart: chance(0.4),
      startsLit: false,
      endsLit: chance(0.2),
      purgeS: between(15, 40),
      confirmed: chance(0.4),
      asFound: low + (high - low) * between(0.3, 0.7),
      holdS: between(8, 30),
      sweeps: [chance(0.5) ? [lowEnd, highEnd] : [highEnd, lowEnd]],
      onLoss: 'shuts',
      setting,
      trials: Array.from({ length: oneOf([0, 1, 2, 3]) }, (_, i) => ({
        pressure: setting,
        delayS: i === 2 ? 0 : 0,
        typed,
        withTime: chance(0.7),
      })),
      breakS: 0,
      shutAtEnd: false,
    },
    turning: {
      style: oneOf(['smooth', 'jerks', 'mixed'] as const),
      speed: (high - low) / between(25, 60),
      overshoot: chance(0.7) ? 0 : between(0.03, 0.1),
    },
    instruments: {
      manometer: {
        hz: oneOf([2, 4, 5, 10, 10]),
        digit: oneOf([0.001, 0.01, 0.01]),
        noise: between(0.001, 0.006),
        lagS: between(0.05, 0.3),
        clock: between(-0.01, 0.01),
        jitterS: between(0.002, 0.02),
      },
      signal: {
        hz: oneOf([2, 4, 5, 10]),
        digit: oneOf([0.0002, 0.002, 0.002]),
        noise: between(0.002, 0.01),
        lagS: 0,
        clock: between(-0.01, 0.01),
        jitterS: between(0.002, 0.02),
      },
      pressureUnit: 'inH2O',
      signalUnit: 'V',
      amplitude: oneOf([4.5, 5, 9]),
      fan: chance(0.3),
      ignition: chance(0.3),
      valve: chance(0.2),
    },
    faults: [],
    entered: {
      fanOnly: chance(0.5),
      minimum: chance(0.5),
      trialSeconds: chance(0.5),
      marks: chance(0.4),
      makerRange: chance(0.3),
      asLeft: chance(0.5),
    },
    setup: {},
  };
}
