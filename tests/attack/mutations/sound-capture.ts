import type { Capture } from '../../../shared/model/capture.ts';

// Units by role as the published format has them (CSV columns), not as the program does.
const pressures = 'inH2O inH2O_4C inH2O_60F inH2O_20C Pa hPa kPa mbar mmH2O psi'.split(' ');
const units: Record<string, string[]> = {
  pilot_pressure: pressures,
  fan_pressure: pressures,
  supply_pressure: pressures,
  furnace_pressure: pressures,
  flame_signal: ['V', 'mV', 'uA', 'mA', 'percent'],
  damper_position: ['percent', 'deg', 'in', 'mm'],
  ignition: ['on'],
  pilot_valve: ['on'],
};

/**
 * What is wrong with a capture that was accepted, whatever file it came from; undefined when it may be shown and analyzed: a reading is a
 * finite number in a unit of its role, or flagged and no number; every time, pressure and duration is finite; no line number twice.
 */
export function unsoundPart(capture: Capture): string | undefined {
  for (const reading of capture.readings) {
    if (!units[reading.role]?.includes(reading.unit)) return `${reading.role} in ${reading.unit}`;
    if (!Number.isFinite(reading.elapsedS)) return `a reading at ${reading.elapsedS} s`;
    if (reading.flag === undefined ? !Number.isFinite(reading.value) : !Number.isNaN(reading.value))
      return `a reading of ${reading.value} with the flag ${reading.flag}`;
  }
  const numbers = capture.lines.map(({ seq }) => seq);
  if (new Set(numbers).size < numbers.length) return 'a line number twice';
  if (capture.lines.some(({ elapsedS }) => !Number.isFinite(elapsedS))) return 'a line without a time';
  if (capture.marks.some(({ elapsedS }) => !Number.isFinite(elapsedS))) return 'a mark without a time';
  for (const { pressure, unit, lit, sparkDelayS = 0, timeToProveS = 0, purgeS = 0 } of capture.trials) {
    if (!Number.isFinite(pressure) || !pressures.includes(unit)) return `a trial at ${pressure} ${unit}`;
    if (typeof lit !== 'boolean') return `a trial that is ${String(lit)}`;
    for (const seconds of [sparkDelayS, timeToProveS, purgeS])
      if (!Number.isFinite(seconds) || seconds < 0) return `a trial of ${seconds} s`;
  }
  return unsoundNumber(capture.setup);
}

/** The first number in a JSON value that is not finite, and where it is. */
export function unsoundNumber(json: unknown, path = 'setup'): string | undefined {
  if (typeof json === 'number') return Number.isFinite(json) ? undefined : `${path} is ${json}`;
  if (typeof json !== 'object' || json === null) return undefined;
  for (const [key, part] of Object.entries(json)) {
    const found = unsoundNumber(part, `${path}.${key}`);
    if (found) return found;
  }
  return undefined;
}
