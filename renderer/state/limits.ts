import type { CaptureView } from '../../shared/contract/api.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../shared/model/units.ts';
import { trialSecondsOf, purgeSecondsOf } from '../../shared/model/trials/valid-trials.ts';

/** The limits of a setup in the units displayed. Absent: not given, or given in a kind of unit that cannot be converted. */
export function limitsOf(setup: CaptureView['setup'] | undefined, pressureUnit: PressureUnit, signalUnit: SignalUnit) {
  const range = setup?.makerPressureRange;
  const minimum = setup?.minimumSignal;
  return {
    makerRange: range && {
      low: convertPressure(range.low, range.unit, pressureUnit),
      high: convertPressure(range.high, range.unit, pressureUnit),
    },
    minimumSignal: minimum && convertSignal(minimum.value, minimum.unit, signalUnit),
    trialSeconds: trialSecondsOf(setup ?? {}),
    purgeSeconds: purgeSecondsOf(setup ?? {}),
  };
}
export type Limits = ReturnType<typeof limitsOf>;

/**
 * The limits that live readings are judged by: those of the visit that is recorded or comes next. None while a capture is open that is not
 * being recorded, since the meters may be on another burner than its own.
 */
export const limitsNow = (
  capture: Pick<CaptureView, 'status'> | undefined,
  setup: CaptureView['setup'],
  pressureUnit: PressureUnit,
  signalUnit: SignalUnit,
): Limits => limitsOf(!capture || capture.status === 'recording' ? setup : undefined, pressureUnit, signalUnit);
