import { exactEstimate } from '../../../shared/analysis/curve/estimate.ts';
import type { SignalEnd } from '../../../shared/analysis/window/ends/signal-interval.ts';
import type { Bounds } from '../../../shared/analysis/window/evidence.ts';

const none = new Float64Array(0);

/** What bounds a window whose signal is good between two ends, in inH2O: nothing else, unless `over` says so. */
export const boundsBetween = (low: SignalEnd, high: SignalEnd, over: Partial<Bounds> = {}): Bounds => ({
  unit: 'inH2O',
  interval: {
    status: 'bounded',
    plateau: exactEstimate(4),
    required: { value: 3.6, basis: 'drop-fraction' },
    low,
    high,
    curve: { pressure: none, signal: none },
    band: { low: none, high: none },
    replicates: { low: none, high: none },
  },
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
