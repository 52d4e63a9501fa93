import type { CaptureView } from '../../shared/contract/api.ts';
import { pressureUnits, signalUnits, type PressureUnit, type SignalUnit } from '../../shared/model/units.ts';
import { useWorkbench } from './workbench.ts';
import { useFeed } from './feeds.ts';
import type { latestReading } from './live/latest-readings.ts';

/** The current capture, followed live; undefined when there is none or before its first state arrives. */
export function useCapture(): CaptureView | undefined {
  const captureId = useWorkbench((state) => state.captureId);
  return useFeed('captures.live', captureId === undefined ? undefined : { capture: captureId });
}

/** The units in which readings are displayed: the capture's own, else those of the meters, else those of the setup. */
export function displayUnits(
  capture: CaptureView | undefined,
  latest: ReturnType<typeof latestReading>,
): { pressure: PressureUnit; signal: SignalUnit } {
  const setup = capture?.setup;
  return {
    pressure:
      pressureUnits.find((unit) => unit === capture?.units.pilot_pressure) ??
      latest.pressure?.unit ??
      setup?.makerPressureRange?.unit ??
      'inH2O',
    signal:
      signalUnits.find((unit) => unit === capture?.units.flame_signal) ??
      latest.signal?.unit ??
      setup?.minimumSignal?.unit ??
      'V',
  };
}
