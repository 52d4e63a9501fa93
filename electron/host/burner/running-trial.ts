import type { Undecided } from '../../../shared/contract/api.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';
import type { PurgeClock } from '../../../shared/burner-state/purge-clock.ts';

/** A light-off trial that has begun and is not in the record yet. Times are elapsed times of the capture, in seconds. */
export interface RunningTrial {
  /** Key of its capture: when another program takes that over, the trial is not ours anymore. */
  key: number;
  /** First sign of gas, or the press of the button. */
  startedS: number;
  /** Seconds from gas to spark as announced for this trial; undefined: nothing was. */
  announcedDelayS: number | undefined;
  /** Pressure when it began; absent without a live one. */
  pressure?: { value: number; unit: PressureUnit };
  /** Who began it: gas that the meters showed, or the button. */
  knownBy: 'meters' | 'hand';
  /** What the meters have shown of its gas; undefined until they have. */
  gas?: { atS: number; purge: PurgeClock };
  /** A flame was seen within the time of the trial. */
  sawFlame: boolean;
  /** Nothing burns by the signal, which may have been the spark's before. */
  isDark?: boolean;
  /** It is over, by the meters; the readings of the next seconds still belong to its measurement. */
  over?: { atS: number; why: 'proved' | 'time-over' | 'gas-shut' };
  /** Why what the meters show proves nothing: the technician enters the result. */
  undecided?: Undecided;
}

/** Why what burns, by the signal, may be the spark: a trial runs that may still spark, or it was entered as not lit and its gas is still on. */
export type FlameDoubt = 'trial-runs' | 'entered-not-lit';

/** The signal does not tell a flame from a spark: no meter failed. */
export const isAboutSignal = (why: Undecided | undefined): boolean =>
  why === 'signal-before-gas' || why === 'spark-like-flame' || why === 'weaker-than-before';

/** What goes on besides the recording itself. */
export interface Running {
  trial: RunningTrial | undefined;
  /** A delayed spark that was announced; it holds for the next trial only. */
  announced: { key: number; sparkDelayS: number } | undefined;
  /** Its trial was entered as not lit, against what looks like a flame, and its gas is not shut yet. */
  enteredNotLit: { key: number } | undefined;
  /** The purge before each trial that ended without a result, for the entry that is made later; `startedS` as its mark has it. */
  unjudged: { key: number; startedS: number; purge: PurgeClock }[];
}
