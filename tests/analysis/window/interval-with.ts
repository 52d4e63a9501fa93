import { exactEstimate, type Estimate } from '../../../shared/analysis/curve/estimate.ts';
import type { SignalEnd, SignalInterval } from '../../../shared/analysis/window/ends/signal-interval.ts';

const none = new Float64Array(0);

/** A signal interval between two ends, with nine tenths of its plateau required; nothing is drawn of its curve. */
export const intervalWith = (
  low: SignalEnd,
  high: SignalEnd,
  plateau: Estimate = exactEstimate(5),
): SignalInterval => ({
  status: 'bounded',
  plateau,
  required: { value: 0.9 * plateau.value, basis: 'drop-fraction' },
  low,
  high,
  curve: { pressure: none, signal: none },
  band: { low: none, high: none },
  replicates: { low: none, high: none },
});
