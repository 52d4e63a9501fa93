import { fault } from '../../../model/faults.ts';
import { fail, ok, type Outcome } from '../../../model/outcome.ts';

const halfDay = 43_200;
/** Clocks are set back by an hour at the end of summer time; the next row comes within so long, seconds. */
const hour = 3600;
const nextRowS = 600;

/** Times this far apart, seconds, each of so many rows, are those of a clock without seconds. A table of two meters has two rows for each time. */
const coarseS = 10;
const fewestShared = 3;

/** How many rows share each time, where that is so coarse that nobody can tell when a row was read; undefined where it is not. */
function rowsOfOneTime(elapsedS: readonly number[]): number | undefined {
  const steps = elapsedS.slice(1).map((t, i) => Math.abs(t - elapsedS[i]!));
  const changes = steps.filter((step) => step > 0).sort((a, b) => a - b);
  const shared = Math.round(elapsedS.filter((t) => !Number.isNaN(t)).length / (changes.length + 1));
  const isCoarse = changes.length === 0 ? shared > coarseS : changes[changes.length >> 1]! >= coarseS;
  return isCoarse && shared >= fewestShared ? shared : undefined;
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
  const shared = rowsOfOneTime(elapsedS);
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
