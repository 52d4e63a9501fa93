import { exactEstimate } from '../../../shared/analysis/curve/estimate.ts';
import type { SignalEnd } from '../../../shared/analysis/window/ends/signal-interval.ts';
import type { Bounds } from '../../../shared/analysis/window/evidence.ts';
import { intervalWith } from './interval-with.ts';

/** What bounds a window whose signal is good between two ends, in inH2O: nothing else, unless `over` says so. */
export const boundsBetween = (low: SignalEnd, high: SignalEnd, over: Partial<Bounds> = {}): Bounds => ({
  unit: 'inH2O',
  interval: intervalWith(low, high, exactEstimate(4)),
  unsteady: [],
  repeatedLosses: undefined,
  dip: undefined,
  flameHysteresis: [],
  lightOff: undefined,
  lightingReach: {},
  makerRange: undefined,
  confidence: 0.95,
  pressureU: () => 0,
  signalU: 0,
  ...over,
});
