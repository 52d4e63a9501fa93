import { exp } from '../../numerics/elementary.ts';
import type { Setup } from '../../model/setup.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../model/units.ts';
import type { Sweep } from '../sweep/collect.ts';
import { typicalStep } from '../sweep/series.ts';
import type { RequiredSignal } from './curve-ends.ts';

/**
 * Standard uncertainty of a meter's reading from its accuracy statement: per cent of the reading and absolute part are
 * added and taken as the half width of a rectangular distribution, so divided by the square root of 3.
 * Source: JCGM 100:2008 (GUM), 4.3.7. Zero when the setup states no accuracy.
 */
export function pressureUncertainty(setup: Setup, unit: PressureUnit, value: number): number {
  const stated = setup.pressureAccuracy;
  if (!stated) return 0;
  return (
    ((stated.percentOfReading / 100) * Math.abs(value) + convertPressure(stated.absolute, stated.unit, unit)) /
    Math.sqrt(3)
  );
}

/** The same for the flame signal; zero when the accuracy is stated in another kind of unit. */
export function signalUncertainty(setup: Setup, unit: SignalUnit, value: number): number {
  const stated = setup.signalAccuracy;
  const absolute = stated && convertSignal(stated.absolute, stated.unit, unit);
  if (!stated || absolute === undefined) return 0;
  return ((stated.percentOfReading / 100) * Math.abs(value) + absolute) / Math.sqrt(3);
}

/**
 * A reading stands for some moment since the one before, and nobody knows which. Both meters average, so that most of it is
 * common to both: a quarter of the faster meter's interval, as a rectangle (JCGM 100:2008 4.3.7). Standard uncertainty in seconds.
 */
export const momentUncertainty = (sweep: Sweep) =>
  Math.min(typicalStep(sweep.pressure), typicalStep(sweep.signal)) / 4 / Math.sqrt(3);

/**
 * What the last digit of the signal meter leaves in doubt of a level that stands still: noise of size s dithers the steps q
 * and leaves an error of up to (q / pi) exp(-2 pi^2 s^2 / q^2), of which the root mean square is taken.
 * Source: Widrow and Kollar 2008, Quantization Noise, chapter 4 (first harmonic of the mean quantisation error).
 */
export function digitUncertainty(digit: number, noise: number): number {
  if (digit === 0) return 0;
  const first = (digit / Math.PI / Math.SQRT2) * exp(-2 * (Math.PI * (noise / digit)) ** 2);
  return Math.min(first, digit / Math.sqrt(12));
}

/**
 * A minimum signal is a number of the maker's, so the whole accuracy of the meter counts. A drop from the plateau is
 * seen with the same meter: what is per cent of the reading cancels, and of the absolute part the drop fraction stays.
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
