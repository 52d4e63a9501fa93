import type { InitialEstimates } from '../sweep/series/initial-estimates.ts';
import type { TestedScale } from '../sweep/series/pairs.ts';
import type { PressureGrid } from '../sweep/series/pressure-grid.ts';
import type { MeterRange } from '../sweep/meter-faults/meter-range.ts';
import type { Series } from '../sweep/series/series.ts';

/** What a prediction of the signal needs beside the parameters. */
export interface PredictionInput {
  grid: PressureGrid;
  scale: TestedScale;
  /** Times of the signal readings, seconds. */
  times: Float64Array;
}

/** What a curve is fitted to: the signal readings, the pressure behind them, and the initial estimates of both. */
export interface FitData {
  input: PredictionInput;
  /** Signal readings at `input.times`. */
  signal: Series;
  initial: InitialEstimates;
  /** Readings at the ends of this range are censored: the signal lay there or beyond. Empty where none are. */
  range: MeterRange;
  /** Share of the signal that a reading shows beside the pulses of a shutter, at a moment in seconds; undefined where there are none. */
  shareAt?: (t: number) => number;
}
