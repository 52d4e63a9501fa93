import { leastFanPressure } from '../../shared/burner-state/air.ts';
import type { BurnerView } from '../../shared/contract/api.ts';
import { formatPressure } from '../../shared/model/format.ts';
import { convertPressure, type PressureUnit } from '../../shared/model/units.ts';
import type { LatestReading } from '../state/live/latest-readings.ts';

/** Two pressures differ by more than the manometer, the fan and the damper explain. Our choice: a fifth of the larger, 0.1 inH2O at least. */
const agrees = (one: number, other: number): boolean =>
  Math.abs(one - other) <= Math.max(0.1, 0.2 * Math.max(Math.abs(one), Math.abs(other)));

/**
 * Whether the fan-only pressure that was entered contradicts what the manometer reads now with gas shut: the sentence to say, and the value
 * that was read, in `unit`. Nothing while gas is not known to be shut: what flowing gas reads must never be taken for the fan.
 */
export function fanOnlyDoubt(
  entered: number | undefined,
  unit: PressureUnit,
  latest: LatestReading<PressureUnit> | undefined,
  burner: BurnerView | undefined,
): { text: string; read: number } | undefined {
  const isShut = burner?.gas === 'shut' && (burner.flame === 'dark' || burner.flame === 'out') && !burner.alarm;
  if (entered === undefined || Number.isNaN(entered) || !latest || latest.stale || latest.flag || !isShut)
    return undefined;
  if (burner.pressureTrouble) return undefined;
  const read = convertPressure(latest.value, latest.unit, unit);
  const [enteredInH2O, readInH2O] = [entered, read].map((value) => convertPressure(value, unit, 'inH2O'));
  if (agrees(enteredInH2O!, readInH2O!)) return undefined;
  return {
    text: `With gas shut the manometer reads ${formatPressure(read, unit)}. ${whatItMayBe(readInH2O!, burner)}`,
    read,
  };
}

/** What a pressure of shut gas may be, inH2O. Air of a purge, or gas that creeps in, is not what stands there at light-off. */
function whatItMayBe(read: number, { moreAir }: BurnerView): string {
  if (read < leastFanPressure) return 'Is the fan running?';
  return moreAir
    ? 'If the damper stands as at light-off, that is the fan-only pressure. If not, it is the air of a purge, or gas that leaks in.'
    : 'If the fan runs now, that is the fan-only pressure.';
}
