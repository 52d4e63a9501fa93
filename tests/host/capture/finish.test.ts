import { expect, it, onTestFinished } from 'vitest';
import { createHost } from '../../../electron/host/host.ts';
import type { PortRequest } from '../../../electron/host/acquire/ports/port.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { testFolder } from '../../helpers/run-command.ts';
import { stored, texts, untilDone, valueOf } from '../test-host.ts';

it('what had come of a line is in a recording that is finished while the port of its meter is still closing', async () => {
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
        const close = () =>
          new Promise<void>((resolve) => {
            setTimeout(resolve, 50);
          });
        return ok({ beginsWhole: true, write: () => {}, close });
      },
    }),
  );
  onTestFinished(async () => void (await host.close()));
  valueOf(await host.handlers['meters.connect']({ port: 'gauge', profile: builtInProfiles[0]!.name }, untilDone));
  const { capture } = valueOf(await host.handlers['captures.start']({ setup: {} }, untilDone));
  port!.onBytes(Buffer.from('1\r\n2.5'));
  const disconnected = host.handlers['meters.disconnect']({ port: 'gauge' }, untilDone);
  valueOf(await host.handlers['captures.finish']({ capture }, untilDone));
  await disconnected;
  expect(texts(stored(folder, capture))).toEqual(['1', '2.5']);
  // Half a number is no number.
  expect(stored(folder, capture).readings.map(({ flag }) => flag)).toEqual([undefined, 'unreadable']);
});
