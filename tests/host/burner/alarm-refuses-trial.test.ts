import { expect, it } from 'vitest';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { neverAborted, openTestHost, valueOf } from '../test-host.ts';

it('refuses a trial while a lost flame leaves gas on, also once the flame signal meter is silent', async () => {
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
  const view = async () => {
    for await (const burner of handlers['burner.live']({}, neverAborted)) return burner;
    throw new Error('burner.live gave nothing');
  };
  const begin = async () => {
    const outcome = await handlers['trials.begin']({ capture, sparkDelayS: 0 }, neverAborted);
    return outcome.ok ? 'ok' : outcome.fault.code;
  };
  /** Ten lines a second of both meters, pressure in inH2O and signal in V; the last digit is never quite still. */
  const run = (seconds: number, pressure: number, signal?: number) => {
    for (let k = 0; k < 10 * seconds; k += 1) {
      nowMs += 100;
      const dither = k % 3 === 0 ? 0.01 : 0;
      send(`${(pressure + dither).toFixed(2)}\r\n`);
      if (signal !== undefined) send(`${(signal + dither).toFixed(3)}\r\n`, 'amplifier');
    }
  };
  run(10, 0.2, 0.02); // gas shut
  run(2, 2.4, 0.02); // gas on, no flame yet
  run(28, 2.4, 4.6); // burning
  run(4, 2.4, 0.02); // lost
  await waitUntil('the alarm', async () => (await view()).alarm?.kind === 'flame-lost');
  expect(await begin()).toBe('flame-lost');
  run(10, 2.4); // its cable comes off: the purge cannot be seen, the gas is on all the same
  await waitUntil('the silence', async () => (await view()).signalTrouble);
  expect(await begin()).toBe('flame-lost');
});
