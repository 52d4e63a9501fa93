import { type SetPointRule, type Setup, setupDefaults } from '../../model/setup.ts';
import { convertPressure, convertSignal } from '../../model/units.ts';
import type { Sweep } from './collect.ts';

/** The setup as the analysis of one sweep uses it: defaults filled in, every quantity in the sweep's own unit. */
export interface SweepSettings {
  /** Two-sided confidence of the intervals, 0 to 1. */
  confidence: number;
  /** Share of the plateau by which the signal may drop. */
  dropFraction: number;
  /** Seed of the bootstrap. */
  seed: number;
  setPointRule: SetPointRule;
  trialSeconds: number;
  /** Undefined when none was entered, or in another kind of unit than the meter's. */
  minimumSignal: number | undefined;
  /** Pressure with the pilot valve shut and the fan running; 0 when it was not entered. */
  fanOnly: number;
  makerRange: { low: number; high: number } | undefined;
  asLeft: number | undefined;
}

/** Fills in the defaults of a setup and converts it to the units of a sweep. */
export function settingsFor(setup: Setup, { pressureUnit, signalUnit }: Sweep): SweepSettings {
  const { minimumSignal, fanOnlyPressure, makerPressureRange: range, asLeftPressure } = setup;
  return {
    confidence: setup.confidence ?? setupDefaults.confidence,
    dropFraction: setup.signalDropFraction ?? setupDefaults.signalDropFraction,
    seed: setup.seed ?? setupDefaults.seed,
    setPointRule: setup.setPointRule ?? setupDefaults.setPointRule,
    trialSeconds: setup.pilotTrialSeconds ?? setupDefaults.pilotTrialSeconds,
    minimumSignal: minimumSignal && convertSignal(minimumSignal.value, minimumSignal.unit, signalUnit),
    fanOnly: fanOnlyPressure ? convertPressure(fanOnlyPressure.value, fanOnlyPressure.unit, pressureUnit) : 0,
    makerRange: range && {
      low: convertPressure(range.low, range.unit, pressureUnit),
      high: convertPressure(range.high, range.unit, pressureUnit),
    },
    asLeft: asLeftPressure && convertPressure(asLeftPressure.value, asLeftPressure.unit, pressureUnit),
  };
}
