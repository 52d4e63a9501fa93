import { expect, it } from 'vitest';
import { waitUntil } from '../../helpers/wait-until.ts';
import { neverAborted } from '../test-host.ts';
import { openTwoMeterHost } from '../two-meter-host.ts';

it('refuses a trial while a lost flame leaves gas on, also once the flame signal meter is silent', async () => {
  const { handlers, capture, view, run } = await openTwoMeterHost();
  const begin = async () => {
    const outcome = await handlers['trials.begin']({ capture, sparkDelayS: 0 }, neverAborted);
    return outcome.ok ? 'ok' : outcome.fault.code;
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
