import { expect, it } from 'vitest';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { neverAborted, openTestHost } from '../test-host.ts';

/** A host with a manometer that shows 2.4 inH2O and no flame signal meter, recording. */
async function recordingHost() {
  const { host, send, record } = await openTestHost(testFolder());
  const capture = await record();
  send('2.40\r\n2.41\r\n');
  const mark = async (kind: 'sweep-start' | 'as-found' | 'as-left', confirmed?: true) => {
    const outcome = await host.handlers['captures.mark']({ capture, kind, text: '', confirmed }, neverAborted);
    return outcome.ok ? 'ok' : outcome.fault.code;
  };
  await waitUntil('a live pressure', async () => (await mark('as-found')) === 'ok');
  return mark;
}

it('asks once the regulator may have been turned, and takes an as-found value that the technician answers for', async () => {
  const mark = await recordingHost();
  expect(await mark('as-found')).toBe('ok');
  expect(await mark('sweep-start')).toBe('ok');
  expect(await mark('as-found')).toBe('as-found-late');
  expect(await mark('as-found', true)).toBe('ok');
});

it('records as-left without a flame signal meter only when the technician answers for the flame', async () => {
  const mark = await recordingHost();
  expect(['burner-unknown', 'meter-no-reading']).toContain(await mark('as-left'));
  expect(await mark('as-left', true)).toBe('ok');
});
