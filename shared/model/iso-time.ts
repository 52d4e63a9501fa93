/** A moment, epoch milliseconds, as ISO 8601 in the time zone that is so many minutes east of UTC: "2026-11-25T09:44:26.120+01:00". */
export function isoWithOffset(utcMs: number, offsetMin: number): string {
  const local = new Date(utcMs + offsetMin * 60_000).toISOString().slice(0, -1);
  const two = (n: number) => String(Math.trunc(Math.abs(n))).padStart(2, '0');
  return `${local}${offsetMin < 0 ? '-' : '+'}${two(offsetMin / 60)}:${two(offsetMin % 60)}`;
}
