import type { MeterState } from '../../../shared/contract/api.ts';
import type { Flag, Role } from '../../../shared/model/reading.ts';
import { pressureUnits, signalUnits, type PressureUnit, type SignalUnit } from '../../../shared/model/units.ts';

/** The newest reading of one role over all meters. `stale`: older than `staleMs`, so no longer what the meter shows. */
export interface LatestReading<U> {
  value: number;
  unit: U;
  flag: Flag | undefined;
  ageMs: number;
  stale: boolean;
  port: string;
}

/** The slowest meters send a reading every two seconds; after twice that time a reading counts as stale. */
const staleMs = 4000;

/** Whether a reading is no longer what its meter shows: too old, or the meter sends no more. */
export const isStaleReading = ({ status }: MeterState, { ageMs }: MeterState['latest'][number]): boolean =>
  ageMs > staleMs || status !== 'live';

/** The newest pressure and flame signal among the meters; undefined when no meter gives it. */
export function latestReading(meters: readonly MeterState[] | undefined): {
  pressure: LatestReading<PressureUnit> | undefined;
  signal: LatestReading<SignalUnit> | undefined;
} {
  return {
    pressure: find(meters, 'pilot_pressure', pressureUnits),
    signal: find(meters, 'flame_signal', signalUnits),
  };
}

function find<U extends string>(
  meters: readonly MeterState[] | undefined,
  role: Role,
  units: readonly U[],
): LatestReading<U> | undefined {
  for (const meter of meters ?? []) {
    const latest = meter.latest.find((one) => one.role === role);
    const unit = units.find((one) => one === latest?.unit);
    if (latest && unit)
      return {
        value: latest.value,
        unit,
        flag: latest.flag,
        ageMs: latest.ageMs,
        stale: isStaleReading(meter, latest),
        port: meter.port,
      };
  }
  return undefined;
}
