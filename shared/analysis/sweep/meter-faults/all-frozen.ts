import type { FrozenSpans } from '../../../burner-state/meters/trouble-spans.ts';
import type { Reading, Role } from '../../../model/reading.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../../model/units.ts';
import type { FrozenMeters, FrozenStretch } from './frozen.ts';

/**
 * All stretches in which a meter repeated one value: those that the sweep shows, and those in which the burner's state was followed without
 * a meter that repeated itself, which may lie before and after the sweep and while the regulator was at rest. In time order.
 *
 * @param swept  what the sweep shows
 * @param told   what the tracker told, in the seconds of the readings
 * @param units  of the values
 */
export function allFrozen(
  swept: FrozenMeters,
  told: FrozenSpans,
  readings: readonly Reading[],
  units: { pressureUnit: PressureUnit; signalUnit: SignalUnit },
): FrozenMeters {
  const all = (
    role: Role,
    shown: FrozenStretch[],
    spans: FrozenSpans['signal'],
    valueOf: (reading: Reading) => number | undefined,
  ) => {
    const others = spans.filter(({ fromS, toS }) => !shown.some((each) => each.fromS < toS && fromS < each.toS));
    const more = others.flatMap(({ fromS, toS }) => {
      const repeated = readings.find((each) => each.role === role && each.elapsedS >= fromS && each.elapsedS < toS);
      const value = repeated && valueOf(repeated);
      return value === undefined ? [] : [{ fromS, toS, value }];
    });
    return [...shown, ...more].toSorted((a, b) => a.fromS - b.fromS);
  };
  return {
    pressure: all('pilot_pressure', swept.pressure, told.pressure, ({ value, unit }) =>
      convertPressure(value, unit as PressureUnit, units.pressureUnit),
    ),
    signal: all('flame_signal', swept.signal, told.signal, ({ value, unit }) =>
      convertSignal(value, unit as SignalUnit, units.signalUnit),
    ),
  };
}
