import type { PressureUnit, SignalUnit } from './units.ts';

/**
 * The one way in which numbers become text, on the screen, in the report and in the commands.
 * Decimals follow the unit, so that one step of the last digit is about 0.01 inH2O or 0.01 V whatever the unit.
 */
const pressureFaces = {
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

const signalFaces = {
  V: { decimals: 2, label: 'V' },
  mV: { decimals: 0, label: 'mV' },
  uA: { decimals: 2, label: 'µA' },
  mA: { decimals: 4, label: 'mA' },
  percent: { decimals: 1, label: '%' },
} as const satisfies Record<SignalUnit, { decimals: number; label: string }>;

/** What is printed where there is no number. */
export const noNumber = '–';

/** `value` with that many decimals; a dash for what is not a number; never "-0". */
export function formatNumber(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return noNumber;
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}

/** The unit as people write it. */
export const pressureUnitLabel = (unit: PressureUnit): string => pressureFaces[unit].label;
export const signalUnitLabel = (unit: SignalUnit): string => signalFaces[unit].label;

/** The number alone, for tables whose heading carries the unit. */
export const pressureNumber = (value: number, unit: PressureUnit): string =>
  formatNumber(value, pressureFaces[unit].decimals);
export const signalNumber = (value: number, unit: SignalUnit): string =>
  formatNumber(value, signalFaces[unit].decimals);

/** "2.28 inH2O". */
export const formatPressure = (value: number, unit: PressureUnit): string =>
  `${pressureNumber(value, unit)} ${pressureUnitLabel(unit)}`;
/** "4.15 V". */
export const formatSignal = (value: number, unit: SignalUnit): string =>
  `${signalNumber(value, unit)} ${signalUnitLabel(unit)}`;

/** "1.09 to 1.17 inH2O". */
export const formatPressureSpan = (span: readonly [number, number], unit: PressureUnit): string =>
  `${pressureNumber(span[0], unit)} to ${formatPressure(span[1], unit)}`;
/** "4.59 to 4.63 V". */
export const formatSignalSpan = (span: readonly [number, number], unit: SignalUnit): string =>
  `${signalNumber(span[0], unit)} to ${formatSignal(span[1], unit)}`;

/** A change with its sign: "+0.12 inH2O", "-0.03 V". */
export const formatPressureChange = (value: number, unit: PressureUnit): string =>
  withSign(value, pressureNumber(value, unit)) + ` ${pressureUnitLabel(unit)}`;
export const formatSignalChange = (value: number, unit: SignalUnit): string =>
  withSign(value, signalNumber(value, unit)) + ` ${signalUnitLabel(unit)}`;
/** "+" before what is above zero as printed. */
export const withSign = (value: number, text: string): string => (value > 0 && Number(text) !== 0 ? `+${text}` : text);

/** "1.1 s". */
export const formatSeconds = (value: number, decimals = 1): string => `${formatNumber(value, decimals)} s`;

/** A share of one as per cent: 0.562 gives "56 %", 0.995 with one decimal "99.5 %". */
export const formatPercent = (share: number, decimals = 0): string => `${formatNumber(share * 100, decimals)} %`;

/** A proven lower bound as whole per cent: rounded down, so that no more is claimed than was proven. */
export const formatLowerBound = (share: number): string => formatPercent(Math.floor(share * 100 + 1e-9) / 100);

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

/** A time on the capture's own clock: 754.3 gives "12:34.3". */
export function formatElapsed(elapsedS: number): string {
  if (!Number.isFinite(elapsedS)) return noNumber;
  const tenths = Math.round(Math.abs(elapsedS) * 10);
  const minutes = Math.floor(tenths / 600);
  const rest = ((tenths % 600) / 10).toFixed(1).padStart(4, '0');
  return `${elapsedS < 0 && tenths > 0 ? '-' : ''}${minutes}:${rest}`;
}

/**
 * Wall time as written where it was taken: "2026-11-25T09:44:26.120+01:00" gives "2026-11-25 09:44:26 (UTC+01:00)".
 * Text in, text out: nothing is moved to another time zone. What is not such a time is given back unchanged.
 */
export function formatWallTime(iso: string): string {
  const parts = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})(:\d{2})?(?:\.\d+)?(Z|[+-]\d{2}:?\d{2})?$/u.exec(iso);
  if (!parts) return iso;
  const [, date, time, seconds = '', zone] = parts;
  const where = zone === undefined ? 'time zone not given' : zone === 'Z' || zone === '+00:00' ? 'UTC' : `UTC${zone}`;
  return `${date} ${time}${seconds} (${where})`;
}
