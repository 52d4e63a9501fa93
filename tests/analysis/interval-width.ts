/**
 * How wide an interval of an end may be at most, from outside the analysis: the pressure over which a logistic shoulder falls
 * from 90 % to 10 %, 2 ln 9 of its widths. A wider interval says less than a glance at the plot; an infinite one holds every
 * truth.
 *
 * @param width  of the shoulder, in the unit of the result
 */
export const shoulderFall = (width: number): number => 2 * Math.log(9) * width;

/** Width of an interval; infinite where one of its sides is. */
export const widthOf = ([from, to]: readonly [number, number]): number => to - from;

/** Whether an interval holds a value. */
export const holds = ([from, to]: readonly [number, number], value: number): boolean => from <= value && value <= to;
