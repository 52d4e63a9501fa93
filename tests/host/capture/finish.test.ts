import { expect, it, onTestFinished } from 'vitest';
import { createHost } from '../../../electron/host/host.ts';
import type { PortRequest } from '../../../electron/host/acquire/ports/port.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { wait } from '../../helpers/wait-until.ts';
import { storedCapture, lineTexts, neverAborted, valueOf } from '../test-host.ts';

it('an unfinished line is in a recording that is finished while the port of its meter is still closing', async () => {
  const folder = testFolder();
  let port: PortRequest | undefined;
  const host = valueOf(
    createHost({
      dataFolder: folder,
      practice: false,
      version: 'test',
      host: 'command',
      openPort: async (request) => {
        port = request;
        return ok({ startsOnNewLine: true, write: () => {}, close: () => wait(50) });
      },
    }),
  );
  onTestFinished(async () => void (await host.close()));
  valueOf(await host.handlers['meters.connect']({ port: 'gauge', profile: builtInProfiles[0]!.name }, neverAborted));
  const { capture } = valueOf(await host.handlers['captures.start']({ setup: {} }, neverAborted));
  port!.onBytes(Buffer.from('1\r\n2.5'));
  const disconnected = host.handlers['meters.disconnect']({ port: 'gauge' }, neverAborted);
  valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
  await disconnected;
  expect(lineTexts(storedCapture(folder, capture))).toEqual(['1', '2.5']);
  // Half a number is no number.
  expect(storedCapture(folder, capture).readings.map(({ flag }) => flag)).toEqual([undefined, 'unreadable']);
});
