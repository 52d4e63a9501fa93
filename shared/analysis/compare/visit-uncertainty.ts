import type { Study } from '../study.ts';
import { driftUncertainty } from '../window/diagnostics/drift.ts';
import type { SignalEnd } from '../window/ends/signal-interval.ts';

/*
 * What a visit as a whole was wrong by, which its own readings do not show as scatter: a detector that was not warm, and a
 * manometer that answers late.
 */

/** Seconds by which damping of a manometer may differ from what is usual, either way (common practice: 0 to 2 s). */
const usualDampingS = 1;
/** A first-order response settles to 5 % within three of its time constants: ln 20. */
const settlingTimes = 3;

/**
 * Standard uncertainty of what the manometer itself lags, seconds: the lag of a sweep is that of the signal behind the
 * manometer, so that damping which was turned on shortens it. A sweep in stairs shows how late the manometer can be at most;
 * else it is a rectangle of what is usual (JCGM 100:2008, 4.3.7).
 */
export const manometerResponseU = ({ stepResponse }: Pick<Study, 'stepResponse'>): number =>
  (stepResponse ? Math.min(2 * usualDampingS, stepResponse.settleS / settlingTimes) : usualDampingS) / Math.sqrt(3);

/** What the drift moves an end by, in pressure: the signal's share of it over the slope of the curve there. */
export function driftUAt(study: Pick<Study, 'drift' | 'interval'>, end: SignalEnd): number {
  const { plateau, required } = study.interval;
  return end.slope === 0 ? 0 : (driftUncertainty(study.drift) * required.value) / plateau.value / Math.abs(end.slope);
}
