import { isoWithOffset } from '../../shared/model/iso-time.ts';

/** The host's two clocks. Time stamps come from `monotonicMs`, so setting the wall clock changes none of them. */
export interface Clock {
  /** Milliseconds from an arbitrary zero; never goes back. */
  monotonicMs(): number;
  /** Epoch milliseconds. */
  wallMs(): number;
}

export const systemClock: Clock = { monotonicMs: () => performance.now(), wallMs: () => Date.now() };

/** Wall time as ISO 8601 with the offset of this computer's time zone: "2026-11-25T09:44:26.120+01:00". */
export const isoLocal = (wallMs: number): string => isoWithOffset(wallMs, -new Date(wallMs).getTimezoneOffset());

/**
 * Minutes that this computer's time zone was east of UTC when its clocks showed a date and time.
 *
 * @param localS  that date and time as seconds since 1970-01-01 of the same clocks
 */
export function localOffsetMin(localS: number): number {
  const shown = new Date(localS * 1000);
  return -new Date(
    shown.getUTCFullYear(),
    shown.getUTCMonth(),
    shown.getUTCDate(),
    shown.getUTCHours(),
    shown.getUTCMinutes(),
    shown.getUTCSeconds(),
  ).getTimezoneOffset();
}
