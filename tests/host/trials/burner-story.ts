import { onTestFinished, vi } from 'vitest';
import type { Setup } from '../../../shared/model/setup.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { neverAborted, openTestHost, storedCapture, valueOf } from '../test-host.ts';

/** Fan-only pressure 0.2 inH2O, flame proved at 1.25 V, trial of 10 s, purge of 20 s. */
export const setup: Setup = {
  fanOnlyPressure: { value: 0.2, unit: 'inH2O' },
  minimumSignal: { value: 1.25, unit: 'V' },
  pilotTrialSeconds: 10,
  purgeSeconds: 20,
};

/** What both meters show from now on: inH2O and V; undefined: that meter says nothing. */
export interface Shown {
  pressure: number | undefined;
  signal: number | undefined;
}
export const shut: Shown = { pressure: 0.2, signal: 0.02 };
export const unlit: Shown = { pressure: 2.4, signal: 0.02 };
export const burning: Shown = { pressure: 2.4, signal: 4.6 };

/**
 * A host with a manometer and a flame signal meter at ten readings a second, on a clock that the test advances. The signal follows
 * with a first-order lag of 0.5 s; the last digits are never quite still.
 */
export async function openStory(given: { setup?: Setup; records?: boolean; folder?: string; atS?: number } = {}) {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval', 'setTimeout', 'clearTimeout'] });
  onTestFinished(() => void vi.useRealTimers());
  let nowMs = 1000 * (given.atS ?? 1);
  const wallOffsetMs = Date.parse('2026-11-27T08:00:00Z');
  const folder = given.folder ?? testFolder();
  const { host, send } = await openTestHost(folder, {
    clock: { monotonicMs: () => nowMs, wallMs: () => wallOffsetMs + nowMs },
  });
  const { handlers } = host;
  const profile = 'Multimeter, volts, one number a line';
  valueOf(await handlers['meters.connect']({ port: 'amplifier', profile }, neverAborted));
  const start = async () =>
    valueOf(await handlers['captures.start']({ setup: given.setup ?? setup }, neverAborted)).capture;
  let capture = given.records === false ? '' : await start();
  let startedMs = nowMs;
  let signal = 0.02;
  return {
    host,
    folder,
    handlers,
    send,
    capture: () => capture,
    async record() {
      capture = await start();
      startedMs = nowMs;
    },
    /** Goes on with the recording of an interrupted capture, in a host that was opened after the one that recorded it. */
    async resume(interrupted: string) {
      valueOf(await handlers['captures.continue']({ capture: interrupted }, neverAborted));
      capture = interrupted;
    },
    stretches: async () => {
      for await (const { stretches } of handlers['burner.stretches']({ capture }, neverAborted)) return stretches;
      throw new Error('burner.stretches gave nothing');
    },
    /** Elapsed seconds of the recording. */
    elapsedS: () => (nowMs - startedMs) / 1000,
    /** Lets both meters show this for so many seconds. `also`: lines of further meters, by port, each tenth of a second. */
    async run(seconds: number, shown: Shown, also: Record<string, string> = {}) {
      for (let k = 0; k < Math.round(10 * seconds); k += 1) {
        nowMs += 100;
        signal += (1 - Math.exp(-0.1 / 0.5)) * ((shown.signal ?? signal) - signal);
        const dither = k % 3 === 0 ? 0.01 : 0;
        if (shown.pressure !== undefined) send(`${(shown.pressure + dither / 2).toFixed(3)}\r\n`);
        if (shown.signal !== undefined) send(`${(signal + dither).toFixed(3)}\r\n`, 'amplifier');
        for (const [port, line] of Object.entries(also)) send(`${line}\r\n`, port);
        await vi.advanceTimersByTimeAsync(100);
      }
    },
    view: async () => valueOf(await handlers['captures.get']({ capture }, neverAborted)),
    burner: async () => {
      for await (const burner of handlers['burner.live']({}, neverAborted)) return burner;
      throw new Error('burner.live gave nothing');
    },
    stored: () => storedCapture(folder, capture),
  };
}

export const codeOf = (outcome: { ok: boolean; fault?: { code: string } }) =>
  outcome.ok ? 'ok' : (outcome.fault?.code ?? 'no fault');
