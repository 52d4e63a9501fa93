import { expect, it } from 'vitest';
import { Profile } from '../../../shared/model/profile.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { openTestHost, storedCapture, lineTexts, neverAborted, valueOf } from '../test-host.ts';

it('an interrupted capture is continued with its own meters and profiles when none is connected', async () => {
  const folder = testFolder();
  const first = await openTestHost(folder);
  const profile = Profile.parse({
    name: 'Gauge in halves',
    line: { format: 'number' },
    channels: [{ role: 'pilot_pressure', unit: 'mbar', scale: 0.5 }],
  });
  valueOf(await first.host.handlers['profiles.save']({ profile }, neverAborted));
  valueOf(await first.host.handlers['meters.connect']({ port: 'gauge', profile: profile.name }, neverAborted));
  const capture = await first.record();
  first.send('123\r\n');
  await waitUntil('the line', () => storedCapture(folder, capture).lines.length === 1);
  await first.host.close();

  const { host, send } = await openTestHost(folder);
  valueOf(await host.handlers['meters.disconnect']({ port: 'gauge' }, neverAborted));
  // The profile has changed since: the capture continues with the old one.
  const changed = Profile.parse({ ...profile, channels: [{ role: 'pilot_pressure', unit: 'mbar' }] });
  valueOf(await host.handlers['profiles.save']({ profile: changed }, neverAborted));
  valueOf(await host.handlers['captures.continue']({ capture }, neverAborted));
  send('456\r\n');
  await waitUntil('the second line', () => storedCapture(folder, capture).lines.length === 2);
  expect(lineTexts(storedCapture(folder, capture))).toEqual(['123', '456']);
  expect(storedCapture(folder, capture).readings.map(({ value }) => value)).toEqual([61.5, 228]);
});

it('a client that assumes a capture to be interrupted cannot complete it while another one records it again', async () => {
  const folder = testFolder();
  const first = await openTestHost(folder);
  const capture = await first.record();
  await first.host.close();
  const { host, send } = await openTestHost(folder);
  const seen: string[] = [];
  const untilSeen = new AbortController();
  const watching = (async () => {
    for await (const { unfinished } of host.handlers['captures.changes']({}, untilSeen.signal))
      seen.push(unfinished[0]?.status ?? 'complete');
  })();
  await waitUntil('the interrupted one', () => seen.length === 1);
  valueOf(await host.handlers['captures.continue']({ capture }, neverAborted));
  const refused = await host.handlers['captures.finish']({ capture, interrupted: true }, neverAborted);
  expect(refused).toMatchObject({ ok: false, fault: { code: 'capture-goes-on' } });
  send('1.5\r\n');
  await waitUntil('the line', () => storedCapture(folder, capture).lines.length === 1);
  await waitUntil('the recording', () => seen.length === 2);
  valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
  await waitUntil('the end', () => seen.length === 3);
  untilSeen.abort();
  await watching;
  expect(seen).toEqual(['interrupted', 'recording', 'complete']);
});
