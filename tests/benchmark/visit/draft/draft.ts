import type { Random } from '../../../../shared/numerics/random.ts';
import type { Setup } from '../../../../shared/model/setup.ts';
import type { BurnerFacts } from '../burner/facts.ts';
import { type Draw, plainBurner, turningPoints } from './burner.ts';
import type { Instruments } from '../simulated.ts';
import type { Site } from '../technician/actions.ts';
import type { Plan } from '../technician/plan.ts';
import type { MeterFault, Segment } from '../types.ts';

/** A fault of a meter: for how long, and in which state of the burner it begins. */
export interface FaultPlan {
  meter: MeterFault['meter'];
  kind: MeterFault['kind'];
  seconds: number;
  /** Begins in one of these; `start`: with the recording. */
  during: ((segment: Segment) => boolean) | 'start';
  /** inH2O */
  by?: number;
}

/** What is varied while the facts of one visit are drawn. */
export interface Draft extends Draw {
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
  const burner = plainBurner({ between, oneOf, chance });
  const { low, high } = burner.curve;
  const setting = low + (high - low) * between(0.45, 0.6);
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
      sweeps: [turningPoints({ between, chance }, burner)],
      onLoss: 'shuts',
      setting,
      trials: Array.from({ length: oneOf([0, 1, 2, 3]) }, () => ({
        pressure: setting,
        delayS: 0,
      })),
      types: chance(0.6),
      withTime: chance(0.7),
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
