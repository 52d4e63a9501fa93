import { expect, it } from 'vitest';
import { testFolder } from '../../helpers/test-folder.ts';
import { neverAborted, openTestHost } from '../test-host.ts';

it('only the workbench in a browser gives out addresses', async () => {
  const { host } = await openTestHost(testFolder());
  expect(await host.handlers['address.new']({}, neverAborted)).toMatchObject({ fault: { code: 'address-none' } });
  await host.close();
});
