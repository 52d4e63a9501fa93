import { trackCapture } from '../burner-state/track.ts';
import { lightOffAt, type LightOffAt, toleranceAt } from '../light-off/at-setting.ts';
import { planOf, planProgress } from '../light-off/plan.ts';
import type { Capture } from '../model/capture.ts';
import type { AnalysisResult } from '../model/results/analysis-result.ts';
import { setupDefaults } from '../model/setup.ts';
import { judgedTrials, trialSecondsOf } from '../model/trials/valid-trials.ts';
import { convertPressure, type PressureUnit, type SignalUnit } from '../model/units.ts';
import { lowerBound } from '../numerics/binomial.ts';
import { captureWithoutWrongTimes } from './sweep/prepare-sweep.ts';
import { expandedUncertainty } from './window/meter-uncertainty.ts';

/** What can be told of a visit whose readings give no window: what the burner did, and what the trials prove at the pressure as left. */
export type WithoutWindow = Pick<AnalysisResult, 'pressureUnit' | 'signalUnit' | 'confidence' | 'phases' | 'lightOff'>;

/**
 * Follows the burner through a visit without a sweep and counts its light-off trials. Without a window a trial counts at the pressure as left
 * only within the manometer's uncertainty of it.
 */
export function withoutWindow(capture: Capture): WithoutWindow {
  const { readings, setup, trials: entries } = capture;
  const unitOf = (role: 'pilot_pressure' | 'flame_signal') => readings.find((reading) => reading.role === role)?.unit;
  const pressureUnit = (unitOf('pilot_pressure') ?? entries[0]?.unit ?? 'inH2O') as PressureUnit;
  const confidence = setup.confidence ?? setupDefaults.confidence;
  const { spans } = trackCapture(captureWithoutWrongTimes(capture), setup);
  const trials = judgedTrials(entries, setup);
  const lit = trials.filter((trial) => trial.lit).length;
  const left =
    setup.asLeftPressure && convertPressure(setup.asLeftPressure.value, setup.asLeftPressure.unit, pressureUnit);
  const setting =
    left === undefined
      ? undefined
      : {
          unit: pressureUnit,
          pressure: left,
          tolerance: toleranceAt(0, expandedUncertainty(setup, pressureUnit, left)),
        };
  const atAsLeft: LightOffAt | undefined = setting && lightOffAt(trials, setting, trialSecondsOf(setup), confidence);
  return {
    pressureUnit,
    signalUnit: (unitOf('flame_signal') ?? 'V') as SignalUnit,
    confidence,
    ...(spans.length > 0 && { phases: spans.map((span) => ({ ...span })) }),
    ...(trials.length > 0 && {
      lightOff: {
        trials: trials.length,
        lit,
        lowerBound: lowerBound(lit, trials.length, confidence),
        confidence,
        ...(atAsLeft && { atAsLeft }),
        ...(setting && { planMet: planProgress(planOf(setup), trials, setting, trialSecondsOf(setup)).met }),
      },
    }),
  };
}
