import { halfPlateau, type Levels } from '../../../shared/burner-state/chain/levels.ts';
import { beforeS, measureTrial, type MeasuredTrial } from '../../../shared/burner-state/trials/measure-trial.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { convertSignal, type SignalUnit } from '../../../shared/model/units.ts';
import type { HostContext } from '../host-context.ts';
import { readingsSince } from '../store/read/readings-since.ts';
import type { RunningTrial } from './running-trial.ts';
import { provingOverSpark } from '../../../shared/burner-state/trials/proving-over-spark.ts';
import { trialSecondsOf } from '../../../shared/model/trials/valid-trials.ts';

/**
 * Measures a trial from the readings that are stored; undefined without a pressure that rises. Throws what the store throws.
 *
 * The flame is proved at the minimum signal of the setup, else half way from dark to the flame's level as the tracker has learned them; above
 * the signal of the spark alone in any case.
 *
 * @param levels  what the tracker has learned, in `unit` of the flame signal
 * @param untilS  when the gas of the next trial came on; what the meters show from then on is not of this one
 */
export function measureRecorded(
  { store, live, clock }: HostContext,
  trial: Pick<RunningTrial, 'key' | 'gas' | 'startedS'>,
  setup: Setup,
  levels: Levels | undefined,
  untilS = Infinity,
): MeasuredTrial | undefined {
  const fromS = (trial.gas?.atS ?? trial.startedS) - beforeS;
  const readings = readingsSince(store.db, trial.key, fromS);
  const unit = readings.find(({ role }) => role === 'flame_signal')?.unit as SignalUnit | undefined;
  const liveUnit = live.mean('flame_signal', 1000, clock.monotonicMs())?.unit as SignalUnit | undefined;
  const { minimumSignal } = setup;
  const own = liveUnit ?? unit;
  const entered = own && minimumSignal && convertSignal(minimumSignal.value, minimumSignal.unit, own);
  const usual = entered ?? (minimumSignal ? undefined : levels && halfPlateau(levels));
  // Where the spark cannot be told from a flame the technician is asked: what is measured then is only shown.
  const overSpark = usual === undefined || !levels ? usual : (provingOverSpark(usual, levels) ?? usual);
  const proving = unit && own && overSpark !== undefined ? convertSignal(overSpark, own, unit) : undefined;
  return measureTrial(readings, {
    fromS,
    untilS,
    provingSignal: proving ?? Infinity,
    trialSeconds: trialSecondsOf(setup),
  });
}
