import { convertPressure } from '../model/units.ts';
import { toleranceAt } from '../light-off/at-setting.ts';
import { planProgress, planOf } from '../light-off/plan.ts';
import type { Study } from './study.ts';
import { plateauAt } from './window/diagnostics/two-plateaus.ts';
import { coverage } from './curve/estimate.ts';
import { pressureUncertainty } from './window/meter-uncertainty.ts';
import { burns } from './sweep/flame/gas-off.ts';

/** A plateau less certain than it is high shows nothing of a flame. */
export const isPlateauUnknown = ({ interval: { plateau } }: Pick<Study, 'interval'>): boolean =>
  plateau.ci[1] - plateau.ci[0] > Math.abs(plateau.value);

/** No flame was seen in the whole capture, and the signal shows no window of its own: there is nothing to set. */
export const isFlameUnseen = ({ tracked, interval }: Pick<Study, 'tracked' | 'interval'>): boolean =>
  interval.status === 'none' && !tracked.spans.some(burns);

/** A flame that goes out amid good pressures may do so again at the set point, until it is known why it did. */
const isLostInside = ({ contradictions }: Pick<Study, 'contradictions'>): boolean =>
  contradictions.lostWhereGood.length > 0;

/** The window ends at a dip of the signal beyond which no end was found: nobody knows which side of the dip is the plateau. */
const isBesideDip = ({ dip, interval }: Pick<Study, 'dip' | 'interval'>): boolean =>
  dip !== undefined && interval.status !== 'bounded';

/** Two plateaus, and a set point on neither: a little to one side the signal is another. */
const isOnStep = ({ plateaus }: Pick<Study, 'plateaus'>, setPoint: number | undefined): boolean =>
  plateaus !== undefined && setPoint !== undefined && plateauAt(plateaus, setPoint) === undefined;

type Tried = Pick<Study, 'trials' | 'setup' | 'sweep' | 'interval' | 'settings'>;

/**
 * Pressures amid the good signal at which trials failed at a setting that lit as well, unless the plan was met there after the failure:
 * chance or a fault of the burner decides there, so there is nothing to set. Where an end of the signal is not known, only trials at one
 * pressure count.
 */
export function unclearLightOffs(study: Tried): number[] {
  const { trials, setup, sweep, interval, settings } = study;
  const { low, high } = interval;
  const unit = sweep.pressureUnit;
  const plan = planOf(setup);
  return failedAndLit(study, (pressure, expanded) => {
    if (!low || !high) return expanded;
    const width = high.value - low.value;
    const isAmid = Math.abs(pressure - (low.value + high.value) / 2) < width / 4;
    return isAmid ? toleranceAt(width, expanded) : undefined;
  })
    .filter((at) => !planProgress(plan, trials, { unit, ...at }, settings.trialSeconds).met)
    .map(({ pressure }) => pressure);
}

/** Trials lit and failed at pressures that the manometer does not tell apart: chance decides there, whatever the pressure. */
const isLightingByChance = (study: Tried): boolean => failedAndLit(study, (_, expanded) => expanded).length > 0;

/** Failures with a trial that lit within a tolerance, which `toleranceOf` gives by the pressure and the manometer's expanded uncertainty there. */
function failedAndLit(
  { trials, setup, sweep }: Tried,
  toleranceOf: (pressure: number, expanded: number) => number | undefined,
): { pressure: number; tolerance: number }[] {
  const unit = sweep.pressureUnit;
  const at = trials.map((trial) => ({ lit: trial.lit, p: convertPressure(trial.pressure, trial.unit, unit) }));
  const lit = at.filter((trial) => trial.lit);
  return at.flatMap(({ lit: isLit, p: pressure }) => {
    const tolerance = isLit ? undefined : toleranceOf(pressure, coverage * pressureUncertainty(setup, unit, pressure));
    return tolerance !== undefined && lit.some(({ p }) => Math.abs(p - pressure) <= tolerance)
      ? [{ pressure, tolerance }]
      : [];
  });
}

/** What keeps a set point from being final, gravest first, as the end of "because ..."; empty where nothing does. */
export function provisionalReasons(
  study: Pick<
    Study,
    | 'unclearS'
    | 'window'
    | 'interval'
    | 'disagreement'
    | 'settings'
    | 'contradictions'
    | 'dip'
    | 'plateaus'
    | 'trials'
    | 'lightOff'
    | 'setup'
    | 'sweep'
  >,
  setPoint: number | undefined,
): string[] {
  const { unclearS, window, disagreement, settings } = study;
  const open = [window.low, window.high].filter((end) => end?.cause === 'tested-end').length;
  return [
    ...(isPlateauUnknown(study) ? ['the plateau of the signal is not known well enough'] : []),
    ...(study.sweep.overloadTop === undefined ? [] : ['the plateau is beyond the range of the signal meter']),
    ...(isOnStep(study, setPoint) ? ['it stands on the step between two plateaus'] : []),
    ...(unclearS.length > 0 ? ['it is not known whether the valve shut or the flame was lost'] : []),
    ...(isLostInside(study) ? ['the flame was lost where it burned well otherwise'] : []),
    ...(isBesideDip(study)
      ? ['the signal dips below what is required, and what lies beyond the dip has an open end']
      : []),
    ...(disagreement ? ['two sweeps of this capture contradict each other'] : []),
    ...(unclearLightOffs(study).length > 0 || isLightingByChance(study)
      ? ['light-off trials lit and failed at the same pressure']
      : []),
    ...((study.lightOff?.contradicting.length ?? 0) > 0 ? ['a light-off failed between pressures that lit'] : []),
    ...(settings.setPointRule === 'equal-flow' && !settings.fanOnlyKnown
      ? ['it splits the gas flow and the fan-only pressure is not known']
      : []),
    ...(open === 1 ? ['one end of the window was not found'] : []),
    ...(open === 2 ? ['neither end of the window was found'] : []),
  ];
}

/** Whether the readings do not tell for sure what the burner did, whatever the window: no setting passes on such a capture. */
export const isDoubtful = (
  study: Pick<Study, 'unclearS' | 'interval' | 'disagreement' | 'contradictions' | 'tracked'>,
): boolean =>
  isFlameUnseen(study) ||
  isPlateauUnknown(study) ||
  study.unclearS.length > 0 ||
  isLostInside(study) ||
  study.disagreement !== undefined;
