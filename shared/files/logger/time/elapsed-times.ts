import { fault } from '../../../model/faults.ts';
import { fail, ok, type Outcome } from '../../../model/outcome.ts';

const halfDay = 43_200;
/** Clocks are set back by an hour at the end of summer time; the next row comes within so long, seconds. */
const hour = 3600;
const nextRowS = 600;

/** Fewest rows that share a time without seconds: a table that reads two meters in turn has two. */
const fewestShared = 3;
/** Times this far apart, seconds, are written without seconds whatever their format says. */
const withoutSecondsS = 10;

/** How many rows share each time, where those lack their seconds, so that nobody can tell when a row was read; undefined where they do not. */
function rowsOfOneTime(elapsedS: readonly number[], format: string): number | undefined {
  const known = elapsedS.filter((t) => !Number.isNaN(t));
  const steps = known
    .slice(1)
    .map((t, i) => Math.abs(t - known[i]!))
    .filter((step) => step > 0)
    .sort((a, b) => a - b);
  const shared = Math.round(known.length / (steps.length + 1));
  const lacksSeconds = !format.includes('s') || (steps[steps.length >> 1] ?? 0) >= withoutSecondsS;
  return lacksSeconds && shared >= fewestShared ? shared : undefined;
}

/**
 * Seconds from the first time, to the microsecond; NaN stays NaN. A clock that seems to jump by more than half a day has passed
 * midnight; one with a date and without a time zone that goes back by an hour was set back at the end of summer time, and time goes on. One
 * that leaps forward by an hour leaves the gap, since nothing may have been recorded: that is said. Times that are numbers keep their own
 * zero.
 * Fails with `map-unclear` where a clock goes back by an hour or more otherwise: its date is missing, or AM and PM are; and where many rows
 * share each time, so that its seconds are missing.
 *
 * @param isClock  the times begin anew at midnight
 * @param hasZone  the file says of which time zone they are: such a clock is not set at the end of summer time
 */
export function elapsedTimes(
  file: string,
  times: number[],
  { isClock, hasZone, format }: { isClock: boolean; hasZone: boolean; format: string },
): Outcome<{ elapsedS: number[]; notices: string[] }> {
  const isNumber = /^[a-z]+$/u.test(format);
  const mayBeSet = !isClock && !isNumber && !hasZone;
  let [zero, shift, before, backwards] = [Number.NaN, 0, Number.NaN, 0];
  let isSetBack = false;
  let isSetForward = false;
  const elapsedS: number[] = [];
  for (const time of times) {
    if (Number.isNaN(time) || isNumber) {
      elapsedS.push(time);
      continue;
    }
    if (Number.isNaN(zero)) zero = time;
    const step = time + shift - before;
    if (isClock && step < -halfDay) shift += 2 * halfDay;
    else if (isClock && step > halfDay) shift -= 2 * halfDay;
    else if (mayBeSet && step >= -hour && step < nextRowS - hour) {
      shift += hour;
      isSetBack = true;
    }
    if (mayBeSet && step > hour && step <= hour + nextRowS) isSetForward = true;
    const now = time + shift;
    if (isClock && now <= before - hour)
      return fail(
        fault('map-unclear', {
          file,
          problem: 'its clock goes back by an hour or more: a date, or AM and PM, are missing',
          key: 'time',
        }),
      );
    if (now < before) backwards += 1;
    before = now;
    elapsedS.push(Math.round((now - zero) * 1e6) / 1e6);
  }
  const shared = rowsOfOneTime(elapsedS, format);
  if (shared !== undefined)
    return fail(
      fault('map-unclear', {
        file,
        problem: `its times have no seconds: about ${shared} rows share each of them`,
        key: 'time',
      }),
    );
  return ok({
    elapsedS,
    notices: [
      ...(isSetBack
        ? [`${file}: its times go back by an hour, as clocks do at the end of summer time; the times after it go on.`]
        : []),
      ...(isSetForward
        ? [
            `${file}: its times leap forward by an hour, as clocks do at the start of summer time. If that is why, everything after it is an hour late.`,
          ]
        : []),
      ...(backwards > 0 ? [`${file}: its times go back at ${backwards} rows; the clock may have been set.`] : []),
    ],
  });
}
