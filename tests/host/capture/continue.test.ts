import { expect, it } from 'vitest';
import { Profile } from '../../../shared/model/profile.ts';
import { testFolder, waitUntil } from '../../helpers/run-command.ts';
import { openTestHost, storedCapture, lineTexts, neverAborted, valueOf } from '../test-host.ts';

it('an interrupted capture goes on with its own meters, read as they were, when none is connected', async () => {
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
  // Changed since: the capture goes on as it was begun.
  const changed = Profile.parse({ ...profile, channels: [{ role: 'pilot_pressure', unit: 'mbar' }] });
  valueOf(await host.handlers['profiles.save']({ profile: changed }, neverAborted));
  valueOf(await host.handlers['captures.continue']({ capture }, neverAborted));
  send('456\r\n');
  await waitUntil('the second line', () => storedCapture(folder, capture).lines.length === 2);
  expect(lineTexts(storedCapture(folder, capture))).toEqual(['123', '456']);
  expect(storedCapture(folder, capture).readings.map(({ value }) => value)).toEqual([61.5, 228]);
});

it('who takes a capture for interrupted cannot end it when another window goes on recording it', async () => {
  const folder = testFolder();
  const first = await openTestHost(folder);
  const capture = await first.record();
  await first.host.close();
  const { host, send } = await openTestHost(folder);
  const seen: string[] = [];
  const untilSeen = new AbortController();
  const watching = (async () => {
    for await (const [one] of host.handlers['captures.statuses']({}, untilSeen.signal)) seen.push(one!.status);
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
