import { z } from 'zod';

/**
 * Pascals in one unit of pressure.
 * Sources: conventional inH2O, mmH2O, psi and the 4 degC and 60 degF columns: NIST SP 811 (2008), appendix B.8;
 * 20 degC column: water density 998.2067 kg/m3 (Tanaka et al. 2001, Metrologia 38, 301) x 9.80665 m/s2 x 0.0254 m.
 */
export const pascalsPer = {
  Pa: 1,
  hPa: 100,
  kPa: 1000,
  mbar: 100,
  inH2O: 249.08891,
  inH2O_4C: 249.082,
  inH2O_60F: 248.84,
  inH2O_20C: 998.2067 * 9.80665 * 0.0254,
  mmH2O: 9.80665,
  psi: 6894.757293168361,
} as const;

export const pressureUnits = Object.keys(pascalsPer) as [PressureUnit, ...PressureUnit[]];
export type PressureUnit = keyof typeof pascalsPer;

/**
 * Flame signal units by kind: a voltage cannot become a current. `perBase` is how many make the kind's base unit, a whole
 * number, so that 4600 mV is 4.6 V to the last bit.
 */
const signalScale = {
  V: { kind: 'voltage', perBase: 1 },
  mV: { kind: 'voltage', perBase: 1000 },
  uA: { kind: 'current', perBase: 1_000_000 },
  mA: { kind: 'current', perBase: 1000 },
  percent: { kind: 'percent', perBase: 1 },
} as const;

export const signalUnits = Object.keys(signalScale) as [SignalUnit, ...SignalUnit[]];
export type SignalUnit = keyof typeof signalScale;

export const PressureUnit = z.enum(pressureUnits);
export const SignalUnit = z.enum(signalUnits);

/** Converts `value` from one unit to another. Returns the same number when the units are the same. */
export const convertPressure = (value: number, from: PressureUnit, to: PressureUnit): number =>
  from === to ? value : (value * pascalsPer[from]) / pascalsPer[to];

/** Whether the two units are of the same kind (both voltages, both currents, both percent). */
export const sameSignalKind = (a: SignalUnit, b: SignalUnit): boolean => signalScale[a].kind === signalScale[b].kind;

/** Converts `value` from one unit to another; undefined when the kinds differ. */
export const convertSignal = (value: number, from: SignalUnit, to: SignalUnit): number | undefined => {
  if (from === to) return value;
  if (!sameSignalKind(from, to)) return undefined;
  const [per, into] = [signalScale[from].perBase, signalScale[to].perBase];
  // The factor is a whole number, so there is only one rounding.
  return into >= per ? value * (into / per) : value / (per / into);
};
