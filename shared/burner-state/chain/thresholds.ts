import { exp } from '../../numerics/elementary.ts';

/**
 * Pressures below which gas is taken for shut, inH2O, and how probable each is. Several, since the fan-only pressure is not known or may
 * have been entered before the manometer's zero shifted: the readings decide among them.
 */
export interface Thresholds {
  values: readonly number[];
  weights: Float64Array;
  /**
   * Thresholds below this one, inH2O, count only for a recording that begins with gas shut or with a flame: gas that flowed unlit from the
   * start would explain any pressure above them.
   */
  believedFrom?: number;
  /** The fan-only pressure that was entered, inH2O. */
  entered?: number;
  /** How well a threshold goes with gas that stands shut at `shutPressure` while the fan runs, inH2O. */
  standing: (threshold: number, shutPressure: number) => number;
  /** How well it goes with gas that came on from there, beside that. */
  comingOn: (threshold: number, shutPressure: number) => number;
}

/** The threshold that belongs to a fan-only pressure: a margin of 0.06 inH2O or a tenth above it covers drift and meter. */
const thresholdAt = (fanOnly: number): number => fanOnly + Math.max(0.06, 0.1 * fanOnly);

/** How probable it is that gas which came on from a pressure as a valve lets it had flowed unlit there before, and was turned on further. */
const unlitBefore = 1e-3;

/** How much higher than it was seen shut gas stands another time, as the fan runs faster or the damper moves: the mean, inH2O (common practice). */
const higherBy = 0.3;

/** Gas that is shut mostly stands below this, inH2O (common practice). */
export const usuallyShutBelow = 0.5;

/** Thresholds when nobody has entered a fan-only pressure: mostly as usual, seldom up to 1. */
function openThresholds(): Thresholds {
  const values = [0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.9, 1.2];
  const raw = values.map((value, i) => exp(-((value / 0.35) ** 2) / 2) * (value - (values[i - 1] ?? 0)));
  const sum = raw.reduce((total, weight) => total + weight, 0);
  return {
    values,
    weights: Float64Array.from(raw, (weight) => weight / sum),
    standing: (threshold, shutPressure) => exp(-Math.max(0, threshold - thresholdAt(shutPressure)) / higherBy),
    comingOn: (threshold, shutPressure) => (threshold < shutPressure ? unlitBefore : 1),
  };
}

/**
 * How probable it is that shut gas stands higher than was entered, and by how much at most, inH2O: the manometer's zero has shifted since.
 * A leak looks the same, so it stays improbable until gas is seen to come on from there, and is ruled out when it comes on from what was
 * entered.
 */
const shifted = { probability: 0.02, by: 0.2 };

/** Thresholds below an entered one, in case that it was entered too high: a flame that burns below it shows that. Probable together as `shifted`. */
const belowEntered = [0.05, 0.1, 0.15, 0.2, 0.3, 0.5, 0.75];
/** Of them, those below this share of it: what lies closer a coarse manometer does not tell from it. */
const clearlyBelow = 0.5;

/** Thresholds of an entered fan-only pressure. */
function enteredThresholds(fanOnly: number): Thresholds {
  const entered = thresholdAt(fanOnly);
  const { probability, by } = shifted;
  const lower = belowEntered.filter((threshold) => threshold < clearlyBelow * entered);
  return {
    believedFrom: entered,
    entered: fanOnly,
    values: [...lower, entered, entered + by],
    weights: Float64Array.from([
      ...lower.map(() => probability / lower.length),
      1 - probability * (lower.length > 0 ? 2 : 1),
      probability,
    ]),
    // What was entered says more.
    standing: () => 1,
    comingOn: (threshold, shutPressure) => {
      if (threshold < shutPressure) return unlitBefore;
      return threshold > entered && shutPressure < entered ? 0 : 1;
    },
  };
}

/** Thresholds to begin with: those of the fan-only pressure that was entered, or those that are usual. */
export const thresholdsFor = ({ fanOnly }: { fanOnly?: number | undefined }): Thresholds =>
  fanOnly === undefined ? openThresholds() : enteredThresholds(fanOnly);

/**
 * Thresholds that a capture's pressures can tell apart. Those between which hardly a reading lies say the same of all of them; they are
 * taken together, at the most probable of them.
 */
export function toldApart(
  { values, weights, ...more }: Thresholds,
  bins: readonly { pressure?: number }[],
): Thresholds {
  const groups: { threshold: number; weight: number; most: number; last: number }[] = [];
  values.forEach((threshold, h) => {
    const weight = weights[h]!;
    const group = groups.at(-1);
    if (group && !isBetween(bins, group.last, threshold)) {
      group.last = threshold;
      group.weight += weight;
      if (weight > group.most) [group.threshold, group.most] = [threshold, weight];
    } else groups.push({ threshold, weight, most: weight, last: threshold });
  });
  return {
    values: groups.map(({ threshold }) => threshold),
    weights: Float64Array.from(groups, ({ weight }) => weight),
    ...more,
  };
}

/** Whether more than one reading in two hundred lies between two thresholds or close to them: a valve passes through in a few. */
function isBetween(bins: readonly { pressure?: number }[], low: number, high: number): boolean {
  let count = 0;
  for (const { pressure } of bins)
    if (pressure !== undefined && pressure > low - 0.03 && pressure < high + 0.06) count += 1;
  return count > bins.length / 200;
}
