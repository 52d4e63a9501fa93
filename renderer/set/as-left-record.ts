import { toleranceAt } from '../../shared/light-off/at-setting.ts';
import { countWords, planOf, planProgress } from '../../shared/light-off/plan.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import { judgedTrials, trialSecondsOf } from '../../shared/model/trials/valid-trials.ts';
import { convertPressure, type PressureUnit } from '../../shared/model/units.ts';
import { reasonForProvisional } from '../../shared/report/labels.ts';
import { firstAfter, type LiveColumn } from '../state/live/live-buffer.ts';
import { guardedWindow } from './adjustment.ts';

/** The mark of a lost flame comes at most so long after the loss, seconds: the meter's lag and the tracker's. */
const markDelayS = 2;
/** Pressures closer than this are the same where no window says more, inH2O: about as fine as a regulator screw can be set by hand. */
const sameInH2O = 0.02;

/** Within how much of a pressure a loss or a trial is one at that pressure, in `unit`. */
export function nearness(analysis: AnalysisDetail | undefined, unit: PressureUnit): number {
  const window = guardedWindow(analysis, unit);
  return toleranceAt(window ? window[1] - window[0] : 0, convertPressure(sameInH2O, 'inH2O', unit));
}

/** How often the flame was lost at this pressure during the visit. `pressures`: the stored readings, in the unit of `present`. */
export function lossesAt(
  present: number,
  { marks }: Pick<CaptureView, 'marks'>,
  pressures: LiveColumn,
  tolerance: number,
): number {
  return marks.filter(({ kind, elapsedS }) => {
    if (kind !== 'flame-lost') return false;
    const at = pressures.value[firstAfter(pressures, elapsedS - markDelayS) - 1];
    return at !== undefined && Math.abs(at - present) <= tolerance;
  }).length;
}

/**
 * What the record leaves open about a pressure that is to be as-left, each a sentence: a provisional set point, or none; trials that the
 * plan still asks for there. Empty: nothing. `present` in `unit`; `isPending`: the calculation is not over.
 */
export function asLeftOpen(
  present: number,
  unit: PressureUnit,
  { trials, setup }: Pick<CaptureView, 'trials' | 'setup'>,
  analysis: AnalysisDetail | undefined,
  isPending: boolean,
): string[] {
  const open: string[] = [];
  if (isPending) open.push('The set point is not calculated yet.');
  else if (!analysis?.result.setPoint) open.push('No set point is known.');
  else if (analysis.result.setPoint.provisional)
    open.push(reasonForProvisional(analysis.result) ?? 'The set point is provisional.');
  const trialSeconds = trialSecondsOf(setup);
  const { plain, delayed, met } = planProgress(
    planOf(setup),
    judgedTrials(trials, setup),
    { unit, pressure: present, tolerance: nearness(analysis, unit) },
    trialSeconds,
  );
  if (!met)
    open.push(
      `Light-off is not proved here: ${countWords(plain)} with the spark at once, ${countWords(delayed)} delayed.`,
    );
  return open;
}
