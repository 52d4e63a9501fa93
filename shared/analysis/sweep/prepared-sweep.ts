import type { Tracked } from '../../burner-state/track.ts';
import type { Explanation } from '../../model/results/analysis-result.ts';
import type { SweepSpan, TimeSpan } from '../../model/sweeps.ts';
import type { Sweep } from './collect.ts';
import type { DropOut } from './flame/drop-outs.ts';
import type { DarkStretch } from './flame/flame-loss.ts';
import type { RepeatedLosses } from './flame/repeated-losses.ts';
import type { FrozenMeters } from './meter-faults/frozen.ts';
import type { SelfCheck } from './self-check/self-check.ts';
import type { Shade } from './self-check/shade.ts';
import type { InitialEstimates } from './series/initial-estimates.ts';
import type { TestedScale } from './series/pairs.ts';
import type { PressureGrid } from './series/pressure-grid.ts';
import type { Series } from './series/series.ts';
import type { StepResponse } from './step-response.ts';
import type { SweepSettings } from './sweep-settings.ts';

/** What the first step of the analysis finds: the readings of one sweep, cleaned and ready for the fit. Pressures and signals in its units. */
export interface PreparedSweep {
  /** All readings of the sweep, before anything is left out. */
  sweep: Sweep;
  settings: SweepSettings;
  /** What the burner did during the whole capture. Pressures in inH2O. */
  tracked: Tracked;
  /** When the marked sweeps that count began, seconds. */
  sweepStartsS: number[];
  /** Moments at which a light-off is on record, seconds. */
  lightOffsS: number[];
  /** Sweeps that the technician discarded. */
  discarded: SweepSpan[];
  /** When it cannot be told whether the valve shut or the flame was lost, seconds. */
  unclearS: number[];
  /** Lowest and highest pressure of the sweep then; undefined where it can always be told. */
  unclearPressures: [number, number] | undefined;
  /** When a meter repeated one value while the other went on, in the sweep and outside of it. */
  frozen: FrozenMeters;
  /** Losses of the flame with gas on outside of this sweep. */
  lossesOutside: { atS: number; pressure: number }[];
  /** When the manometer showed nothing though a flame burned. */
  noPressure: TimeSpan[];
  /** How many readings were left out, by reason. */
  leftOut: Explanation['leftOut'];
  /** The detector's self-check, when it shows one. */
  selfCheck?: SelfCheck;
  /** What its pulses leave of the readings between them. */
  shade?: Shade;
  /** The manometer's readings without spikes, and the pressure on an even grid of times. */
  pressure: Series;
  grid: PressureGrid;
  /** All readings of the signal but those of a self-check, spikes with them. */
  spikedSignal: Series;
  /** Signal readings while gas flows and the pressure is known. */
  usableSignal: Series;
  /** The meters may have clocks of their own, and a flame burned at pressures that would show it. */
  showsClock: boolean;
  /** Times in which the signal fell amid good pressures and came back by itself. */
  dropOuts: DropOut[];
  /** Where the flame drops out again and again near one end; its readings while it is out are left out too. */
  repeatedLosses: RepeatedLosses | undefined;
  /** The readings without them, averaged in blocks where there are very many: what the curve is fitted to. */
  signal: Series;
  /** Fewer readings and a coarser grid, on which the shape of the curve is chosen. */
  coarse: { grid: PressureGrid; signal: Series };
  scale: TestedScale;
  initial: InitialEstimates;
  darkStretches: DarkStretch[];
  /** How fast the pressure settles after a turn of the regulator; undefined where the sweep does not show it. */
  stepResponse: StepResponse | undefined;
}
