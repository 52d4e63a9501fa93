import { testFolder } from '../helpers/test-folder.ts';
import { neverAborted, openTestHost, valueOf } from './test-host.ts';

/** A host that records a manometer in inH2O and a flame signal meter in V on a clock of the test's own; the fan-only pressure is 0.20. */
export async function openTwoMeterHost() {
  let nowMs = 1000;
  const { host, send } = await openTestHost(testFolder(), {
    clock: { monotonicMs: () => nowMs, wallMs: () => 1.7e12 + nowMs },
  });
  const { handlers } = host;
  const profile = 'Multimeter, volts, one number a line';
  valueOf(await handlers['meters.connect']({ port: 'amplifier', profile }, neverAborted));
  const setup = {
    fanOnlyPressure: { value: 0.2, unit: 'inH2O' as const },
    minimumSignal: { value: 1.25, unit: 'V' as const },
  };
  const { capture } = valueOf(await handlers['captures.start']({ setup }, neverAborted));
  return {
    handlers,
    capture,
    /** What the host says of the burner now. */
    view: async () => {
      for await (const burner of handlers['burner.live']({}, neverAborted)) return burner;
      throw new Error('burner.live gave nothing');
    },
    /** Ten lines a second of both meters, pressure in inH2O and signal in V; the last digit is never quite still. */
    run: (seconds: number, pressure: number, signal?: number) => {
      for (let k = 0; k < 10 * seconds; k += 1) {
        nowMs += 100;
        const dither = k % 3 === 0 ? 0.01 : 0;
        send(`${(pressure + dither).toFixed(2)}\r\n`);
        if (signal !== undefined) send(`${(signal + dither).toFixed(3)}\r\n`, 'amplifier');
      }
    },
  };
}
