import { convertPressure, convertSignal, PressureUnit, SignalUnit } from '../../shared/model/units.ts';

/** `value` in the unit `from`, expressed in `to`; undefined when one cannot become the other. */
export function convertUnit(value: number, from: string, to: string): number | undefined {
  if (from === to) return value;
  const pressures = [PressureUnit.safeParse(from).data, PressureUnit.safeParse(to).data] as const;
  if (pressures[0] && pressures[1]) return convertPressure(value, pressures[0], pressures[1]);
  const signals = [SignalUnit.safeParse(from).data, SignalUnit.safeParse(to).data] as const;
  return signals[0] && signals[1] ? convertSignal(value, signals[0], signals[1]) : undefined;
}
