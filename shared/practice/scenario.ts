import type { BurnerFacts } from '../model/capture.ts';
import type { Setup } from '../model/setup.ts';
import type { DetectorParameters } from './detector.ts';
import type { FlameCurve } from './flame-curve.ts';
import type { LightOffParameters } from './flame.ts';
import type { MeterParameters } from './meter.ts';
import type { RegulatorParameters } from './regulator.ts';

/** What the simulated technician is going to do; pressures in inH2O. */
export interface VisitPlan {
  /** The sweep turns back here at the latest; earlier where the flame is lost or the screw reaches its end. */
  lowest: number;
  highest: number;
  /** The sweep turns back once the signal has fallen to this fraction of the highest so far. */
  turnBackBelow: number;
  /** Light-off trials in this order. */
  trials: { pressure: number; sparkDelayS: number }[];
  asLeft: number;
}

/** A simulated burner and the visit to it; pressures in inH2O, signals in V. */
export interface Scenario {
  name: string;
  /** One sentence for people: what this burner shows. */
  description: string;
  burner: BurnerFacts;
  setup: Setup;
  startedAt: string;
  regulator: RegulatorParameters;
  startTurns: number;
  /** What the gauge shows with the pilot valve shut and the fan running. */
  fanOnly: number;
  /** Standard deviation of the supply's slow pressure wander. */
  supplyWander: number;
  curve: FlameCurve;
  lightOff: LightOffParameters;
  detector: DetectorParameters;
  manometer: MeterParameters;
  multimeter: MeterParameters;
  plan: VisitPlan;
}
