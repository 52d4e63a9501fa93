import type { Tracked } from '../../burner-state/track.ts';
import { type SetPointRule, type Setup, setupDefaults } from '../../model/setup.ts';
import { convertPressure, convertSignal } from '../../model/units.ts';
import type { Sweep } from './collect.ts';
import { trialSecondsOf } from '../../model/trials/valid-trials.ts';

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
  /** Pressure with the pilot valve shut and the fan running: entered, else as measured; 0 where it is not known. */
  fanOnly: number;
  fanOnlyKnown: boolean;
  makerRange: { low: number; high: number } | undefined;
  asLeft: number | undefined;
}

/**
 * Fills in the defaults of a setup and converts it to the units of a sweep.
 *
 * @param tracked  the fan-only pressure as the capture shows it, inH2O
 */
export function settingsFor(
  setup: Setup,
  { pressureUnit, signalUnit }: Pick<Sweep, 'pressureUnit' | 'signalUnit'>,
  tracked?: Tracked['fanOnly'],
): SweepSettings {
  const { minimumSignal, fanOnlyPressure, makerPressureRange: range, asLeftPressure } = setup;
  const measured = tracked?.basis === 'measured' ? tracked.value : undefined;
  return {
    confidence: setup.confidence ?? setupDefaults.confidence,
    dropFraction: setup.signalDropFraction ?? setupDefaults.signalDropFraction,
    seed: setup.seed ?? setupDefaults.seed,
    setPointRule: setup.setPointRule ?? setupDefaults.setPointRule,
    trialSeconds: trialSecondsOf(setup),
    minimumSignal: minimumSignal && convertSignal(minimumSignal.value, minimumSignal.unit, signalUnit),
    fanOnly: fanOnlyPressure
      ? convertPressure(fanOnlyPressure.value, fanOnlyPressure.unit, pressureUnit)
      : measured === undefined
        ? 0
        : convertPressure(measured, 'inH2O', pressureUnit),
    fanOnlyKnown: fanOnlyPressure !== undefined || measured !== undefined,
    makerRange: range && {
      low: convertPressure(range.low, range.unit, pressureUnit),
      high: convertPressure(range.high, range.unit, pressureUnit),
    },
    asLeft: asLeftPressure && convertPressure(asLeftPressure.value, asLeftPressure.unit, pressureUnit),
  };
}
