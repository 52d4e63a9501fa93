import { usualLagLimits } from './sweep/series/initial-estimates.ts';
import { formatPressure } from '../model/format.ts';
import { convertPressure } from '../model/units.ts';
import type { Study } from './study.ts';
import { burns } from './sweep/flame/gas-off.ts';
import { plateauAt } from './window/diagnostics/two-plateaus.ts';

/** A plateau less certain than it is high shows nothing of a flame. */
export const isPlateauUnknown = ({ interval: { plateau } }: Pick<Study, 'interval'>): boolean =>
  !(plateau.ci[1] - plateau.ci[0] <= Math.abs(plateau.value));

/** No flame was seen in the whole capture, and the signal shows no window of its own: there is nothing to set. */
export const isFlameUnseen = ({ tracked, interval }: Pick<Study, 'tracked' | 'interval'>): boolean =>
  interval.status === 'none' && !tracked.spans.some(burns);

/**
 * Neither end was found, and nothing else shows that the signal answers to a flame: it is its own measure of what is good, or it was never dark,
 * whatever gas did. One that was seen to come with gas or to go with it bounds the lag, and answers.
 */
export const hasNoFlameResponse = ({
  interval,
  tracked,
  initial,
}: Pick<Study, 'interval' | 'tracked' | 'initial'>): boolean =>
  interval.status === 'open-both' &&
  initial.lagLimits === usualLagLimits &&
  (interval.required.basis === 'drop-fraction' ||
    !tracked.spans.some(({ flame }) => flame === 'dark' || flame === 'out' || flame === 'lost'));

/** A flame that goes out amid good pressures may do so again at the set point, until it is known why it did. */
const isLostInside = ({ contradictions }: Pick<Study, 'contradictions'>): boolean =>
  contradictions.lostWhereGood.length > 0;

/** The window ends at a dip of the signal beyond which no end was found: nobody knows which side of the dip is the plateau. */
const isBesideDip = ({ dip, interval }: Pick<Study, 'dip' | 'interval'>): boolean =>
  dip !== undefined && interval.status !== 'bounded';

/** Two plateaus, and a set point on neither: a little to one side the signal is another. */
const isOnStep = ({ plateaus }: Pick<Study, 'plateaus'>, setPoint: number | undefined): boolean =>
  plateaus !== undefined && setPoint !== undefined && plateauAt(plateaus, setPoint) === undefined;

/** Whether the signal fell below what is required at this setting during the sweep: it may do so again, or dip there for good. */
export const fellAt = ({ excursions, tolerance }: Pick<Study, 'excursions' | 'tolerance'>, setting: number): boolean =>
  excursions.some(
    ({ pressure, range = [pressure, pressure] }) => setting >= range[0] - tolerance && setting <= range[1] + tolerance,
  );

/**
 * A failure set an end, and the set point lies farther out on the other side than anything that lit: half of the window is the signal's
 * word alone, on a burner that is known not to light everywhere. Without a pressure as left the plan is that of the set point and says so.
 */
function isBeyondLit(
  {
    lightOff,
    trials,
    sweep,
    settings,
    tolerance,
  }: Pick<Study, 'lightOff' | 'trials' | 'sweep' | 'settings' | 'tolerance'>,
  setPoint: number | undefined,
): boolean {
  if (setPoint === undefined || settings.asLeft === undefined || (!lightOff?.low && !lightOff?.high)) return false;
  const lit = trials
    .filter((trial) => trial.lit)
    .map(({ pressure, unit }) => convertPressure(pressure, unit, sweep.pressureUnit));
  return setPoint < Math.min(...lit) - tolerance || setPoint > Math.max(...lit) + tolerance;
}

/** At which pressures it lights by chance, as the end of a sentence. */
function sometimesWords({ litAndFailed: { byChance }, sweep }: Pick<Study, 'litAndFailed' | 'sweep'>): string {
  const at = [...new Set(byChance.map((pressure) => formatPressure(pressure, sweep.pressureUnit)))].join(', ');
  return at && `: it lights sometimes at ${at}`;
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
    | 'litAndFailed'
    | 'lightOff'
    | 'sweep'
    | 'excursions'
    | 'tolerance'
    | 'trials'
    | 'weakReadings'
  >,
  setPoint: number | undefined,
): string[] {
  const { unclearS, window, disagreement, settings, litAndFailed } = study;
  const open = [window.low, window.high].filter((end) => end?.cause === 'tested-end').length;
  return [
    ...(isPlateauUnknown(study) ? ['the plateau of the signal is not known well enough'] : []),
    ...(study.sweep.overloadTop === undefined ? [] : ['the plateau is beyond the range of the signal meter']),
    ...(isOnStep(study, setPoint) ? ['it stands on the step between two plateaus'] : []),
    ...(unclearS.length > 0 ? ['it is not known whether the valve shut or the flame was lost'] : []),
    ...(isLostInside(study) ? ['the flame was lost where it burned well otherwise'] : []),
    ...(setPoint !== undefined && fellAt(study, setPoint) ? ['the signal fell below what is required there'] : []),
    ...(study.weakReadings ? ['too many readings are too low where the signal is good'] : []),
    ...(isBesideDip(study)
      ? ['the signal dips below what is required, and what lies beyond the dip has an open end']
      : []),
    ...(disagreement ? ['two sweeps of this capture contradict each other'] : []),
    ...(litAndFailed.amid.length > 0 || litAndFailed.byChance.length > 0
      ? [`light-off trials lit and failed at the same pressure${sometimesWords(study)}`]
      : []),
    ...((study.lightOff?.contradicting.length ?? 0) > 0 ? ['a light-off failed between pressures that lit'] : []),
    ...(isBeyondLit(study, setPoint) ? ['a light-off failed, and none lit near the set point'] : []),
    ...(settings.setPointRule === 'equal-flow' && !settings.fanOnlyKnown
      ? ['it splits the gas flow and the fan-only pressure is not known']
      : []),
    ...(open === 1 ? ['one end of the window was not found'] : []),
    ...(open === 2 ? ['neither end of the window was found'] : []),
  ];
}

/** Whether the readings do not tell for sure what the burner did, whatever the window: no setting passes on such a capture. */
export const isDoubtful = (
  study: Pick<Study, 'unclearS' | 'interval' | 'disagreement' | 'contradictions' | 'tracked' | 'weakReadings'>,
): boolean =>
  isFlameUnseen(study) ||
  isPlateauUnknown(study) ||
  study.weakReadings !== undefined ||
  study.unclearS.length > 0 ||
  isLostInside(study) ||
  study.disagreement !== undefined;
