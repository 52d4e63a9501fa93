import type { Setup } from '../../model/setup.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../model/units.ts';
import { exp } from '../../numerics/elementary.ts';
import { coverage } from '../curve/estimate.ts';
import type { RequiredSignal } from '../sweep/required-signal.ts';

/**
 * Standard uncertainty of a manometer's reading from its accuracy statement: percent of the reading and absolute part are
 * added and taken as the half width of a rectangular distribution, so divided by the square root of 3.
 * A zero that was found is not taken off the readings, so it counts as a rectangle of its own size beside that (F.2.4.5: a
 * correction that is not applied belongs to the uncertainty).
 * Source: JCGM 100:2008 (GUM), 4.3.7. Zero when the setup states neither.
 *
 * @param value  the reading in `unit`, in which the uncertainty is returned
 */
export function pressureUncertainty(setup: Setup, unit: PressureUnit, value: number): number {
  const { pressureAccuracy: stated, pressureZero: zero } = setup;
  const accuracy = stated
    ? (stated.percentOfReading / 100) * Math.abs(value) + convertPressure(stated.absolute, stated.unit, unit)
    : 0;
  return rectangles(accuracy, zero ? convertPressure(zero.value, zero.unit, unit) : 0);
}

/** Expanded uncertainty of a manometer's reading: what lies within it of the reading, the manometer does not tell apart from it. */
export const expandedUncertainty = (setup: Setup, unit: PressureUnit, value: number): number =>
  coverage * pressureUncertainty(setup, unit, value);

/** Standard uncertainty of two rectangular distributions together, from their half widths. */
const rectangles = (a: number, b: number): number => (b === 0 ? a / Math.sqrt(3) : Math.sqrt((a * a + b * b) / 3));

/** The same for the flame signal and its dark value; what is stated in another kind of unit does not count. */
export function signalUncertainty(setup: Setup, unit: SignalUnit, value: number): number {
  const { signalAccuracy: stated, darkSignal: dark } = setup;
  const absolute = stated && convertSignal(stated.absolute, stated.unit, unit);
  const accuracy = stated && absolute !== undefined ? (stated.percentOfReading / 100) * Math.abs(value) + absolute : 0;
  return rectangles(accuracy, (dark && convertSignal(dark.value, dark.unit, unit)) ?? 0);
}

/**
 * Standard uncertainty that the last digit leaves in the mean of many readings of one level: noise of size s dithers the steps
 * q and leaves an error of up to (q / pi) exp(-2 pi^2 s^2 / q^2), of which the root mean square is taken; never more than a
 * rectangle of one digit.
 * Source: Widrow and Kollar 2008, Quantization Noise, chapter 4 (first harmonic of the mean quantization error).
 *
 * @param digit  step of the last digit, 0 for none
 * @param noise  standard deviation of what dithers it, same unit
 */
export function digitUncertainty(digit: number, noise: number): number {
  if (digit === 0) return 0;
  const firstHarmonic = (digit / Math.PI / Math.SQRT2) * exp(-2 * (Math.PI * (noise / digit)) ** 2);
  return Math.min(firstHarmonic, digit / Math.sqrt(12));
}

/**
 * Standard uncertainty of the measured signal against the required one. A minimum signal is the maker's number, so the whole
 * accuracy of the meter counts. A drop from the plateau is seen with the same meter: what is percent of the reading cancels,
 * and of the absolute part the drop fraction stays.
 *
 * @param unit  of the required signal and of the uncertainty
 */
export function requiredSignalUncertainty(
  setup: Setup,
  unit: SignalUnit,
  required: RequiredSignal,
  dropFraction: number,
): number {
  if (required.basis === 'minimum-signal') return signalUncertainty(setup, unit, required.value);
  return signalUncertainty(setup, unit, 0) * dropFraction;
}
