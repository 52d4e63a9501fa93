import type { LoggerStart } from '../../../model/logger/preview.ts';
import { isoWithOffset } from '../../../model/iso-time.ts';

/**
 * Minutes that a time zone is east of UTC when its clocks show a date and time.
 *
 * @param localS  that date and time as seconds since 1970-01-01 of the same clocks
 */
export type OffsetAt = (localS: number) => number;

/** The first time of a file: its text, and seconds as its format reads them. */
export interface FirstTime {
  text: string;
  seconds: number;
}

/** Seconds from a start near which clocks that are set forward or back make its hour uncertain. */
const nearS = 7200;

/** A time zone in a heading: "Time (UTC)", "Date [GMT+1]", "Zeit UTC-03:30". */
const headingZone =
  /(?<![\p{L}\d])(?:UTC|GMT)(?:\s*(?<sign>[+-])(?<hours>\d{1,2})(?::?(?<minutes>\d{2}))?)?(?![\p{L}\d])/u;

/** Whether the times or their heading say of which time zone they are. */
export const hasZone = (format: string, heading: string): boolean => format.includes('X') || headingZone.test(heading);

/**
 * When a visit began, by the first time of its file: in the time zone that its times or their heading give, else in that of the computer.
 * Undefined where the times have no date, or no time zone is known.
 */
export function startOf(
  first: FirstTime | undefined,
  time: { format: string; hasDate: boolean },
  heading: string,
  offsetAt: OffsetAt | undefined,
): LoggerStart | undefined {
  if (!first || !time.hasDate) return undefined;
  const { text, seconds } = first;
  if (time.format.includes('X'))
    return { at: isoWithOffset(Math.round(seconds * 1000), fileOffsetMin(text)), zone: 'file' };
  const zone = headingZone.exec(heading)?.groups;
  if (zone) {
    const offsetMin = minutesEast(zone.sign, zone.hours, zone.minutes);
    return { at: isoWithOffset(Math.round(seconds * 1000) - offsetMin * 60_000, offsetMin), zone: 'file' };
  }
  if (!offsetAt) return undefined;
  const offsetMin = offsetAt(seconds);
  return {
    at: isoWithOffset(Math.round(seconds * 1000) - offsetMin * 60_000, offsetMin),
    zone: 'computer',
    ...(offsetAt(seconds - nearS) !== offsetAt(seconds + nearS) && { clocksChanged: true as const }),
  };
}

/** What is to be known of a start before it is trusted. */
export const startNotices = (file: string, start: LoggerStart | undefined): string[] =>
  start?.clocksChanged
    ? [
        `${file}: its clock or that of this time zone may have been set forward or back just then; the start may be off by an hour.`,
      ]
    : [];

/** Minutes east of UTC at the end of a time, such as Z or +01:00. */
function fileOffsetMin(text: string): number {
  const parts = /([+-])(\d{2}):?(\d{2})\s*$/u.exec(text);
  return parts ? minutesEast(parts[1], parts[2], parts[3]) : 0;
}

const minutesEast = (sign: string | undefined, hours = '0', minutes = '0'): number =>
  (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes));
