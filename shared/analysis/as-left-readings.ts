import type { Capture, Mark } from '../model/capture.ts';
import type { Reading } from '../model/reading.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../model/units.ts';
import { median } from '../numerics/descriptive.ts';

/** What a meter showed when the pressure as left was recorded, where it does not go with what was recorded or asked for. */
export interface AsLeftMisfit {
  /** Seconds of the capture. */
  atS: number;
  /** `pressure`: the manometer showed another one. `signal`: the flame signal was below what is required. */
  what: 'pressure' | 'signal';
  /** Median of the last readings, in the unit of the sweep. */
  value: number;
}

/** Readings so long before the entry speak for it, seconds: gas is often shut at once, and the signal flickers. */
const recentS = { pressure: 3, signal: 5 };
/** Fewer readings than this say nothing. */
const fewest = 3;

/**
 * What does not fit when the pressure as left was last recorded in a capture; empty where all fits, or nobody recorded it then.
 *
 * @param asLeft     pressure as left, in the unit of the sweep
 * @param tolerance  by how much the manometer may differ from it: within this a trial counts as made there
 * @param required   signal that is required, in the unit of the sweep
 */
export function asLeftMisfits(
  { readings, marks }: Pick<Capture, 'readings' | 'marks'>,
  units: { pressureUnit: PressureUnit; signalUnit: SignalUnit },
  { asLeft, tolerance, required }: { asLeft: number | undefined; tolerance: number; required: number },
): AsLeftMisfit[] {
  const atS = marks.findLast(({ kind }: Mark) => kind === 'as-left')?.elapsedS;
  if (atS === undefined || asLeft === undefined) return [];
  const pressure = medianBefore(readings, 'pilot_pressure', atS, recentS.pressure, ({ value, unit }) =>
    convertPressure(value, unit as PressureUnit, units.pressureUnit),
  );
  const signal = medianBefore(readings, 'flame_signal', atS, recentS.signal, ({ value, unit }) =>
    convertSignal(value, unit as SignalUnit, units.signalUnit),
  );
  const misfits: AsLeftMisfit[] = [];
  if (pressure !== undefined && Math.abs(pressure - asLeft) > tolerance)
    misfits.push({ atS, what: 'pressure', value: pressure });
  if (signal !== undefined && signal < required) misfits.push({ atS, what: 'signal', value: signal });
  return misfits;
}

/** Median of a meter's readings with a number in the last seconds before a moment; undefined where there are too few. */
function medianBefore(
  readings: readonly Reading[],
  role: Reading['role'],
  atS: number,
  seconds: number,
  inUnit: (reading: Reading) => number | undefined,
): number | undefined {
  const values = readings
    .filter((each) => each.role === role && each.elapsedS > atS - seconds && each.elapsedS <= atS)
    .map(inUnit)
    .filter((value): value is number => value !== undefined && Number.isFinite(value));
  return values.length < fewest ? undefined : median(Float64Array.from(values));
}
