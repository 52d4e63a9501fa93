import { expect, it } from 'vitest';
import { finishOrRescue } from '../../../electron/cli/recording/finish-recording.ts';
import type { Host } from '../../../electron/host/host.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';

it('all meters are disconnected while the pending lines are saved in a file, whatever the store refused before', async () => {
  const done: string[] = [];
  const refusals = [
    fault('store-unavailable', { file: 'store', reason: 'it is busy' }),
    fault('store-full', { waiting: 1 }),
  ];
  const host = {
    handlers: {
      'captures.finish': async () => fail(refusals.shift() ?? fault('internal', { what: 'finishing' })),
      'meters.live': async function* () {
        yield done.includes('disconnect gauge') ? [] : [{ port: 'gauge' }];
      },
      'meters.disconnect': async ({ port }: { port: string }) => {
        done.push(`disconnect ${port}`);
        return ok({});
      },
    },
    rescue: async () => {
      done.push('rescue');
      return { fault: fault('lines-rescued', { lines: 1, capture: 'c', file: 'f' }), saved: true };
    },
  } as unknown as Host;
  expect(await finishOrRescue(host, 'c', undefined)).toMatchObject({ code: 'lines-rescued' });
  expect(done).toEqual(['disconnect gauge', 'rescue']);
});
