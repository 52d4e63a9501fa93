import type { BurnerFacts } from '../model/capture.ts';
import type { Setup } from '../model/setup.ts';
import type { DetectorFacts } from './detector.ts';
import type { FlameCurve } from './flame-curve.ts';
import type { LightOffFacts } from './flame.ts';
import type { MeterFacts } from './meter.ts';
import type { RegulatorFacts } from './regulator.ts';

/** What the simulated technician means to do; pressures in inH2O. */
export interface Plan {
  /** The sweep turns back here at the latest: where the flame is lost, the spring ends or the technician has seen enough. */
  lowest: number;
  highest: number;
  /** The sweep turns back once the signal has sagged to this share of the best one seen. */
  turnBackBelow: number;
  /** Light-off trials in this order. */
  trials: { pressure: number; sparkDelayS: number }[];
  asLeft: number;
}

/** An invented burner and the visit paid to it; pressures in inH2O, signals in V. */
export interface Scenario {
  name: string;
  /** One sentence for people. */
  says: string;
  burner: BurnerFacts;
  setup: Setup;
  startedAt: string;
  regulator: RegulatorFacts;
  startTurns: number;
  /** What the gauge shows with the pilot valve shut and the fan running. */
  fanOnly: number;
  supplyWander: number;
  curve: FlameCurve;
  lightOff: LightOffFacts;
  detector: DetectorFacts;
  manometer: MeterFacts;
  multimeter: MeterFacts;
  plan: Plan;
}
