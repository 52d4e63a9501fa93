import { expect, it } from 'vitest';
import { Profile } from '../../../shared/model/profile.ts';
import { testFolder, until } from '../../helpers/run-command.ts';
import { openBench, stored, texts, untilDone, valueOf } from '../test-host.ts';

it('an interrupted capture goes on with its own meters, read as they were, when none is connected', async () => {
  const folder = testFolder();
  const first = await openBench(folder);
  const profile = Profile.parse({
    name: 'Gauge in halves',
    line: { format: 'number' },
    channels: [{ role: 'pilot_pressure', unit: 'mbar', scale: 0.5 }],
  });
  valueOf(await first.host.handlers['profiles.save']({ profile }, untilDone));
  valueOf(await first.host.handlers['meters.connect']({ port: 'gauge', profile: profile.name }, untilDone));
  const capture = await first.record();
  first.send('123\r\n');
  await until('the line', () => stored(folder, capture).lines.length === 1);
  await first.host.close();

  const { host, send } = await openBench(folder);
  valueOf(await host.handlers['meters.disconnect']({ port: 'gauge' }, untilDone));
  // Changed since: the capture goes on as it was begun.
  const changed = Profile.parse({ ...profile, channels: [{ role: 'pilot_pressure', unit: 'mbar' }] });
  valueOf(await host.handlers['profiles.save']({ profile: changed }, untilDone));
  valueOf(await host.handlers['captures.continue']({ capture }, untilDone));
  send('456\r\n');
  await until('the second line', () => stored(folder, capture).lines.length === 2);
  expect(texts(stored(folder, capture))).toEqual(['123', '456']);
  expect(stored(folder, capture).readings.map(({ value }) => value)).toEqual([61.5, 228]);
});

it('who takes a capture for interrupted cannot end it when another window goes on recording it', async () => {
  const folder = testFolder();
  const first = await openBench(folder);
  const capture = await first.record();
  await first.host.close();
  const { host, send } = await openBench(folder);
  const seen: string[] = [];
  const untilSeen = new AbortController();
  const watching = (async () => {
    for await (const [one] of host.handlers['captures.statuses']({}, untilSeen.signal)) seen.push(one!.status);
  })();
  await until('the interrupted one', () => seen.length === 1);
  valueOf(await host.handlers['captures.continue']({ capture }, untilDone));
  const refused = await host.handlers['captures.finish']({ capture, interrupted: true }, untilDone);
  expect(refused).toMatchObject({ ok: false, fault: { code: 'capture-goes-on' } });
  send('1.5\r\n');
  await until('the line', () => stored(folder, capture).lines.length === 1);
  await until('the recording', () => seen.length === 2);
  valueOf(await host.handlers['captures.finish']({ capture }, untilDone));
  await until('the end', () => seen.length === 3);
  untilSeen.abort();
  await watching;
  expect(seen).toEqual(['interrupted', 'recording', 'complete']);
});
