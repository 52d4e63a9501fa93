import { quantileSorted } from '../../numerics/descriptive.ts';
import { studentQuantile } from '../../numerics/distributions.ts';

/** Readings before the rise that tell their noise, and how many of its standard deviations a reading of the rise is above them. */
const fewestBefore = 4;
const aboveNoise = 3.5;
/** The share of noise below that. */
const belowShare = 0.999_767;
/** Readings that step to and fro by their last digit bend by two digits at most; a thousandth more, for rounding. */
const mostBend = 2.001;
/** A pressure at rest reads as two neighboring digits at most, and what is above both of them is a rise; half a digit more, for rounding. */
const digitsAtRest = 1.5;
/** What stands above the readings before by this share of the rise is a part of it, and what stands above by less than the other is not: a fan drifts. */
const noNoiseShare = 0.05;
const driftShare = 0.003;
/** A rise goes on for longer than this, seconds; the readings of a quick manometer do not each rise above the one before. */
const goesOnS = 0.15;
/** So many readings just before tell where the pressure was going, and those of so many seconds: a quick manometer reads the rise often. */
const readingsOfLevel = 15;
export const secondsOfLevel = 1;
/** A quarter of the second differences of unit normal noise are smaller: sqrt(6) times the 62.5 % quantile of the normal distribution. */
const quarterOfBends = Math.sqrt(6) * 0.318_64;
/** A finer digit is smaller than any noise, whatever the unit of pressure. */
const finestDigit = 1e-4;

/**
 * Where a rise begins that has made a tenth of itself at `tenth`: a slow valve or a damped manometer shows little of it at first. The index
 * of the first reading from which on all stand out of the noise of those before; `tenth` where too few tell that noise.
 */
export function firstAboveNoise(
  values: readonly number[],
  tenth: number,
  rise: number,
  timeOf: (i: number) => number,
): number {
  const before = values.slice(0, Math.max(0, tenth));
  if (before.length < fewestBefore) return tenth;
  // Second differences: a smooth tail or rise has next to none.
  const bends = before
    .slice(2)
    .map((value, i) => Math.abs(value - 2 * before[i + 1]! + before[i]!))
    .sort((x, y) => x - y);
  const noise = quantileSorted(Float64Array.from(bends), 0.25) / quarterOfBends;
  const digit = lastDigit(values);
  // A few of them tell the noise only roughly: Student's quantile instead of the normal one. Noise of a last digit is bounded by it.
  const isDigit = quantileSorted(Float64Array.from(bends), 0.5) <= mostBend * digit;
  const byNoise = isDigit ? aboveNoise * Math.max(noise, digit) : noise * studentQuantile(belowShare, bends.length);
  // However few readings tell the noise, it is none of the rise.
  const margin = Math.max(driftShare * rise, Math.min(byNoise, noNoiseShare * rise));
  // A fan that runs up goes on along its line; gas that bleeds off falls below it, to no less than the last readings.
  const lastBefore = (at: number) => {
    let from = Math.max(0, at - readingsOfLevel);
    while (from > 0 && timeOf(at) - timeOf(from - 1) <= secondsOfLevel) from -= 1;
    return values.slice(from, at);
  };
  const standsOut = (at: number) => {
    const last = lastBefore(at);
    return last.length > 2 && values[at]! > Math.max(Math.min(...last), nextOnLine(last)) + margin;
  };
  let onset = tenth;
  // What has begun to rise goes on: a reading as high as one that comes `goesOnS` later is noise.
  let later = tenth;
  while (standsOut(onset - 1)) {
    while (later - 1 > onset - 1 && timeOf(later - 1) >= timeOf(onset - 1) + goesOnS) later -= 1;
    if (values[onset - 1]! > values[later]!) break;
    onset -= 1;
  }
  if (!isDigit) return onset;
  // Gas that comes on slowly rises by digits at first, each of which hardly stands out of the one before.
  for (let at = onset - 1, least = values[onset]!; at > 0 && timeOf(onset) - timeOf(at) <= secondsOfLevel; at -= 1) {
    least = Math.min(least, values[at]!);
    const last = lastBefore(at);
    const [lowest, highest] = [Math.min(...last), Math.max(...last)];
    const isAtRest = last.length >= readingsOfLevel && highest - lowest <= digitsAtRest * digit;
    if (isAtRest && least > highest + Math.max(digitsAtRest * digit, driftShare * rise)) return at;
  }
  return onset;
}

/** The last digit of readings: the largest step of which all differences between them are multiples, no finer than `finestDigit`. */
function lastDigit(values: readonly number[]): number {
  const steps = values.map((value) => Math.round(Math.abs(value - values[0]!) / finestDigit));
  return steps.reduce(greatestCommonDivisor, 0) * finestDigit;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}

/** The next of evenly spaced values on their least-squares line. */
function nextOnLine(values: readonly number[]): number {
  const n = values.length;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const middle = (n - 1) / 2;
  const slope = values.reduce((sum, value, i) => sum + (i - middle) * value, 0) / ((n * (n * n - 1)) / 12);
  return mean + slope * (n - middle);
}
