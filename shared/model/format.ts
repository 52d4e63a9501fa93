import { type PressureUnit, pressureUnits, type SignalUnit, signalUnits } from './units.ts';

/**
 * The one way numbers are formatted, on the screen, in the report and by the commands.
 * The number of decimals depends on the unit, so that the last digit is worth about 0.01 inH2O or 0.01 V in any unit.
 */
const pressureFormats = {
  Pa: { decimals: 0, label: 'Pa' },
  hPa: { decimals: 2, label: 'hPa' },
  kPa: { decimals: 3, label: 'kPa' },
  mbar: { decimals: 2, label: 'mbar' },
  inH2O: { decimals: 2, label: 'inH2O' },
  inH2O_4C: { decimals: 2, label: 'inH2O (4 °C)' },
  inH2O_60F: { decimals: 2, label: 'inH2O (60 °F)' },
  inH2O_20C: { decimals: 2, label: 'inH2O (20 °C)' },
  mmH2O: { decimals: 1, label: 'mmH2O' },
  psi: { decimals: 4, label: 'psi' },
} as const satisfies Record<PressureUnit, { decimals: number; label: string }>;

const signalFormats = {
  V: { decimals: 2, label: 'V' },
  mV: { decimals: 0, label: 'mV' },
  uA: { decimals: 2, label: 'µA' },
  mA: { decimals: 4, label: 'mA' },
  percent: { decimals: 1, label: '%' },
} as const satisfies Record<SignalUnit, { decimals: number; label: string }>;

/** Printed in place of a missing number. */
export const noNumber = '–';

/** `value` with that many decimals; a dash for NaN and infinities; never "-0". */
export function formatNumber(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return noNumber;
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}

/** The unit as it is printed. */
export const pressureUnitLabel = (unit: PressureUnit): string => pressureFormats[unit].label;
export const signalUnitLabel = (unit: SignalUnit): string => signalFormats[unit].label;

/** A unit as people write it. */
export function unitLabel(unit: string): string {
  const pressure = pressureUnits.find((one) => one === unit);
  const signal = signalUnits.find((one) => one === unit);
  return pressure ? pressureUnitLabel(pressure) : signal ? signalUnitLabel(signal) : unit;
}

/** The number alone, for tables whose heading carries the unit. */
export const pressureNumber = (value: number, unit: PressureUnit): string =>
  formatNumber(value, pressureFormats[unit].decimals);
export const signalNumber = (value: number, unit: SignalUnit): string =>
  formatNumber(value, signalFormats[unit].decimals);

/** Which way a guarded number is rounded, so that the printed one promises no more than it: an end inward, a margin down. */
export type Rounding = 'up' | 'down';

/** A guarded end or a margin, with the decimals of its unit: 2.8767 as a high end is 2.87, 1.183 as a low end 1.19. */
export function guardedNumber(value: number, unit: PressureUnit, rounding: Rounding): string {
  const { decimals } = pressureFormats[unit];
  const digits = value * 10 ** decimals;
  // What is a whole digit but for the arithmetic stays that digit.
  const whole =
    Math.abs(digits - Math.round(digits)) < 1e-6
      ? Math.round(digits)
      : rounding === 'up'
        ? Math.ceil(digits)
        : Math.floor(digits);
  return formatNumber(whole / 10 ** decimals, decimals);
}
/** "1.19 inH2O". */
export const formatGuarded = (value: number, unit: PressureUnit, rounding: Rounding): string =>
  `${guardedNumber(value, unit, rounding)} ${pressureUnitLabel(unit)}`;
/** A margin to a guarded end with its unit, never more than it is. */
export const formatMargin = (value: number, unit: PressureUnit): string => formatGuarded(value, unit, 'down');

/** "2.28 inH2O". */
export const formatPressure = (value: number, unit: PressureUnit): string =>
  `${pressureNumber(value, unit)} ${pressureUnitLabel(unit)}`;
/** "4.15 V". */
export const formatSignal = (value: number, unit: SignalUnit): string =>
  `${signalNumber(value, unit)} ${signalUnitLabel(unit)}`;

/** "1.09 to 1.17"; where both print alike "about 4.61": a range from a number to itself looks like certainty. A unit may follow. */
export const formatRange = (from: string, to: string): string => (from === to ? `about ${from}` : `${from} to ${to}`);
const rangeWithUnit = (from: string, to: string, unit: string): string => `${formatRange(from, to)} ${unit}`;

/** "1.09 to 1.17 inH2O". */
export const formatPressureRange = ([low, high]: readonly [number, number], unit: PressureUnit): string =>
  rangeWithUnit(pressureNumber(low, unit), pressureNumber(high, unit), pressureUnitLabel(unit));
/** What lies between two guarded ends, never wider than it is: "1.10 to 1.16 inH2O". */
export const formatGuardedRange = ([low, high]: readonly [number, number], unit: PressureUnit): string =>
  rangeWithUnit(guardedNumber(low, unit, 'up'), guardedNumber(high, unit, 'down'), pressureUnitLabel(unit));
/** "4.59 to 4.63 V". */
export const formatSignalRange = ([low, high]: readonly [number, number], unit: SignalUnit): string =>
  rangeWithUnit(signalNumber(low, unit), signalNumber(high, unit), signalUnitLabel(unit));

/** A change with its sign: "+0.12 inH2O", "-0.03 V". */
export const formatPressureChange = (value: number, unit: PressureUnit): string =>
  withSign(value, pressureNumber(value, unit)) + ` ${pressureUnitLabel(unit)}`;
export const formatSignalChange = (value: number, unit: SignalUnit): string =>
  withSign(value, signalNumber(value, unit)) + ` ${signalUnitLabel(unit)}`;
/** `text` with a "+" in front when it is above zero as printed. */
export const withSign = (value: number, text: string): string => (value > 0 && Number(text) !== 0 ? `+${text}` : text);

/** "1.1 s". */
export const formatSeconds = (value: number, decimals = 1): string => `${formatNumber(value, decimals)} s`;

/** A lag of the flame signal, and on which side of the pressure: "0.9 s behind", or "0.2 s before" where a damped manometer follows later. */
export const lagWords = (lagS: number, decimals = 1): string =>
  `${formatSeconds(Math.abs(lagS), decimals)} ${Number(lagS.toFixed(decimals)) < 0 ? 'before' : 'behind'}`;

/** Seconds of a purge, in whole ones and never more than it lasted: "4 s" for 4.9 s. */
export const formatPurge = (seconds: number): string => formatSeconds(Math.floor(seconds), 0);

/** When the spark of a trial came, seconds after the gas: "with gas", "5.0 s after gas"; "not known" where nobody knows. */
export const formatSpark = (delayS: number | undefined): string =>
  delayS === undefined ? 'not known' : delayS === 0 ? 'with gas' : `${formatSeconds(delayS)} after gas`;

/** A fraction as percent: 0.562 gives "56 %", 0.995 with one decimal "99.5 %". The space is that of NIST SP 811, 7.10.2. */
export const formatPercent = (fraction: number, decimals = 0): string => `${formatNumber(fraction * 100, decimals)} %`;

/** From here on a lower bound decides whether a claim is shown, so that it is not rounded up. */
const highBound = 0.8;

/**
 * A proven lower bound as percent, rounded like every other number: 3 of 3 give "37 %". A high one is rounded down, to a tenth of a percent,
 * and never to certainty: 21 of 21 show 89.6 % at 90 % confidence, which is no 90 %.
 */
export function formatLowerBound(bound: number): string {
  if (bound < highBound) return formatPercent(bound);
  // A billionth more: a bound that is a tenth exactly is not to fall by a rounding error.
  const tenths = Math.floor(Math.min(bound, 0.99) * 1000 + 1e-9);
  return formatPercent(tenths / 1000, tenths % 10 === 0 ? 0 : 1);
}

/** A confidence of 0.95 as "95 %", of 0.995 as "99.5 %". */
export const formatConfidence = (confidence: number): string => `${Number((confidence * 100).toFixed(2))} %`;

/** "48 s", "3 min 12 s", "1 h 4 min". */
export function formatDuration(seconds: number): string {
  if (!Number.isFinite(seconds)) return noNumber;
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${whole % 60} s`;
  return `${Math.floor(whole / 3600)} h ${Math.floor((whole % 3600) / 60)} min`;
}

/** A time on the capture's own clock, minutes and seconds: 754.3 gives "12:34.3". */
export function formatElapsed(elapsedS: number): string {
  if (!Number.isFinite(elapsedS)) return noNumber;
  const tenths = Math.round(Math.abs(elapsedS) * 10);
  const minutes = Math.floor(tenths / 600);
  const rest = ((tenths % 600) / 10).toFixed(1).padStart(4, '0');
  return `${elapsedS < 0 && tenths > 0 ? '-' : ''}${minutes}:${rest}`;
}

/**
 * Wall time in the time zone it was recorded in: "2026-11-25T09:44:26.120+01:00" gives "2026-11-25 09:44:26 (UTC+01:00)".
 * Never converted to another time zone. Text that is not such a time is returned unchanged.
 */
export function formatWallTime(iso: string): string {
  const parts = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})(:\d{2})?(?:\.\d+)?(Z|[+-]\d{2}:?\d{2})?$/u.exec(iso);
  if (!parts) return iso;
  const [, date, time, seconds = '', zone] = parts;
  const zoneText =
    zone === undefined ? 'time zone not given' : zone === 'Z' || zone === '+00:00' ? 'UTC' : `UTC${zone}`;
  return `${date} ${time}${seconds} (${zoneText})`;
}

/** When a capture was begun; `unknown` where its file does not say. */
export const formatStart = (
  capture: { startedAt: string; startUnknown?: true | undefined },
  unknown: string,
): string => (capture.startUnknown ? unknown : formatWallTime(capture.startedAt));
