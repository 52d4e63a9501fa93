import type { PreparedSweep } from '../../sweep/prepared-sweep.ts';
import { type MomentUncertainty, passedAround, withMoment } from '../ends/loss-moment.ts';
import type { SignalEnd, SignalInterval } from '../ends/signal-interval.ts';

/** So long after a loss the states show it, seconds. */
const seenS = 2;

/**
 * The same interval, but an end that was fitted as a shoulder though the flame went out just there is that of a lost flame: between two
 * turns of the hand both look alike, and what the states call lost is not called a signal that falls.
 */
export function withTrackedLosses(
  interval: SignalInterval,
  { grid, darkStretches, tracked }: Pick<PreparedSweep, 'grid' | 'darkStretches' | 'tracked'>,
  uncertainty: MomentUncertainty,
): SignalInterval {
  const lost = darkStretches.filter(({ lostS, delayS }) =>
    tracked.spans.some(
      ({ flame, from_s, to_s }) => flame === 'lost' && from_s < lostS + delayS + seenS && to_s > lostS,
    ),
  );
  const withLoss = (end: SignalEnd | undefined): SignalEnd | undefined => {
    if (!end?.bounded || end.flameLost) return end;
    const loss = lost.find(({ lostS }) => {
      const [least, most] = passedAround(grid, lostS, uncertainty.timeU);
      return end.ci[1] >= least && end.ci[0] <= most;
    });
    return loss ? { ...withMoment(end, grid, loss.lostS, uncertainty), flameLost: true } : end;
  };
  const [low, high] = [withLoss(interval.low), withLoss(interval.high)];
  return { ...interval, ...(low && { low }), ...(high && { high }) };
}
