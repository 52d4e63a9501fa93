import type { Setup } from '../model/setup.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../model/units.ts';

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
