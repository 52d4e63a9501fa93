import { expect, it } from 'vitest';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { openTestHost, storedCapture, lineTexts, neverAborted, valueOf } from '../test-host.ts';
import { refuseStatements } from './refuse-statements.ts';

it('a recording whose status the store refuses to change can be finished later', async () => {
  const folder = testFolder();
  const { host, send, record } = await openTestHost(folder);
  const capture = await record();
  send('1\r\n');
  const busy = refuseStatements('UPDATE capture SET status = ?,');
  expect(await host.handlers['captures.finish']({ capture }, neverAborted)).toMatchObject({
    fault: { code: 'store-unavailable' },
  });
  busy.stop();
  valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
  expect(storedCapture(folder, capture).status).toBe('complete');
  expect(lineTexts(storedCapture(folder, capture))).toEqual(['1']);
});

it('a recording that the store refuses to finish goes on, and loses nothing until it is finished', async () => {
  const folder = testFolder();
  const { host, send, record } = await openTestHost(folder);
  const capture = await record();
  send('1\r\n');
  const full = refuseStatements('UPDATE capture SET status = ?,');
  expect(await host.handlers['captures.finish']({ capture }, neverAborted)).toMatchObject({ ok: false });
  send('2\r\n');
  expect(await host.handlers['captures.finish']({ capture }, neverAborted)).toMatchObject({ ok: false });
  send('3\r\n');
  full.stop();
  await waitUntil('the line', () => storedCapture(folder, capture).lines.length === 3);
  valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
  expect(storedCapture(folder, capture).status).toBe('complete');
  expect(lineTexts(storedCapture(folder, capture))).toEqual(['1', '2', '3']);
});

it('a host that cannot change the status of its recording still closes', async () => {
  const folder = testFolder();
  const { host, send, record } = await openTestHost(folder);
  const capture = await record();
  send('1\r\n');
  const busy = refuseStatements('UPDATE capture SET status = ?,');
  expect(await host.close()).toBeUndefined();
  busy.stop();
  expect(lineTexts(storedCapture(folder, capture))).toEqual(['1']);
});

it('an interrupted capture that the store refuses to continue can be continued later', async () => {
  const folder = testFolder();
  const first = await openTestHost(folder);
  const capture = await first.record();
  first.send('1\r\n');
  await first.host.close();
  const { host, send } = await openTestHost(folder);
  const busy = refuseStatements('INSERT INTO meter');
  expect(await host.handlers['captures.continue']({ capture }, neverAborted)).toMatchObject({
    fault: { code: 'store-unavailable' },
  });
  expect(storedCapture(folder, capture).status).toBe('interrupted');
  busy.stop();
  valueOf(await host.handlers['captures.continue']({ capture }, neverAborted));
  send('2\r\n');
  await waitUntil('the line', () => storedCapture(folder, capture).lines.length === 2);
});
