/** The host's two clocks. Time stamps come from `monotonicMs`, so setting the wall clock changes none of them. */
export interface Clock {
  /** Milliseconds from an arbitrary zero; never goes back. */
  monotonicMs(): number;
  /** Epoch milliseconds. */
  wallMs(): number;
}

export const systemClock: Clock = { monotonicMs: () => performance.now(), wallMs: () => Date.now() };

/** Wall time as ISO 8601 with the offset of this computer's time zone: "2026-11-25T09:44:26.120+01:00". */
export function isoLocal(wallMs: number): string {
  const offsetMin = -new Date(wallMs).getTimezoneOffset();
  const local = new Date(wallMs + offsetMin * 60_000).toISOString().slice(0, -1);
  const two = (n: number) => String(Math.trunc(Math.abs(n))).padStart(2, '0');
  return `${local}${offsetMin < 0 ? '-' : '+'}${two(offsetMin / 60)}:${two(offsetMin % 60)}`;
}
