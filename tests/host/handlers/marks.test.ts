import { expect, it } from 'vitest';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { neverAborted, openTestHost } from '../test-host.ts';
import { openTwoMeterHost } from '../two-meter-host.ts';

/** A host with a manometer that shows 2.4 inH2O and no flame signal meter, recording. */
async function recordingHost() {
  const { host, send, record } = await openTestHost(testFolder());
  const capture = await record();
  send('2.40\r\n2.41\r\n');
  const mark = async (kind: 'sweep-start' | 'as-found' | 'as-left', confirmed?: true) => {
    const outcome = await host.handlers['captures.mark']({ capture, kind, text: '', confirmed }, neverAborted);
    return outcome.ok ? 'ok' : outcome.fault.code;
  };
  await waitUntil('a live pressure', async () => (await mark('as-found', true)) === 'ok');
  return mark;
}

/** A host with both meters, recording: takes as-found, and lets the meters run until the host says what the flame does, or the alarm. */
async function twoMeterHost() {
  const { handlers, capture, view, run } = await openTwoMeterHost();
  const mark = async (kind: 'as-found' | 'sweep-start' | 'sweep-end', confirmed?: true) => {
    const outcome = await handlers['captures.mark']({ capture, kind, text: '', confirmed }, neverAborted);
    return outcome.ok ? 'ok' : outcome.fault.code;
  };
  const asFound = (confirmed?: true) => mark('as-found', confirmed);
  const runUntil = (said: string, pressure: number, signal: number) =>
    waitUntil(said, async () => {
      run(1, pressure, signal);
      const { flame, alarm } = await view();
      return flame === said || alarm?.kind === said;
    });
  return { asFound, mark, runUntil };
}

it('takes as-found only with gas flowing and a flame that burns: the pressure of a shut valve is none', async () => {
  const { asFound, runUntil } = await twoMeterHost();
  await runUntil('dark', 0.2, 0.02);
  expect(await asFound()).toBe('gas-shut');
  expect(await asFound(true)).toBe('gas-shut');
  await runUntil('burning', 2.4, 4.6);
  expect(await asFound()).toBe('ok');
});

it('takes no as-found while a lost flame leaves gas on, whatever the technician answers for', async () => {
  const { asFound, runUntil } = await twoMeterHost();
  await runUntil('dark', 0.2, 0.02);
  await runUntil('burning', 2.4, 4.6);
  await runUntil('flame-lost', 2.4, 0.02);
  expect(await asFound()).toBe('flame-lost');
  expect(await asFound(true)).toBe('flame-lost');
});

it('asks once the regulator may have been turned, and takes an as-found value that the technician answers for', async () => {
  const mark = await recordingHost();
  expect(await mark('as-found', true)).toBe('ok');
  expect(await mark('sweep-start')).toBe('ok');
  expect(await mark('as-found')).toBe('as-found-late');
  expect(await mark('as-found', true)).toBe('ok');
});

it.each(['as-found', 'as-left'] as const)(
  'records %s without a flame signal meter only when the technician answers for the flame',
  async (kind) => {
    const mark = await recordingHost();
    expect(['burner-unknown', 'meter-no-reading']).toContain(await mark(kind));
    expect(await mark(kind, true)).toBe('ok');
  },
);

it('begins no sweep under an alarm, but ends the one in which the flame was lost', async () => {
  const { mark, runUntil } = await twoMeterHost();
  await runUntil('dark', 0.2, 0.02);
  await runUntil('burning', 2.4, 4.6);
  expect(await mark('sweep-start')).toBe('ok');
  await runUntil('flame-lost', 2.4, 0.02);
  expect(await mark('sweep-start', true)).toBe('flame-lost');
  expect(await mark('sweep-end')).toBe('ok');
});
