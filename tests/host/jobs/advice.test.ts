import { expect, it } from 'vitest';
import { adviseCapture } from '../../../shared/advice/advise-capture.ts';
import { writeDataPackage, writeZip } from '../../../shared/files/data-package.ts';
import { simulateVisit } from '../../../shared/practice/simulate.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { neverAborted, openTestHost, valueOf } from '../test-host.ts';

it('the page gets the advice that the command gives, and a capture that cannot be used gives its fault', async () => {
  const { host, record, send } = await openTestHost(testFolder());
  const { capture } = simulateVisit('clean', 1);
  const files = [{ name: 'visit.zip', bytes: writeZip(writeDataPackage(capture)) }];
  valueOf(await host.handlers['files.import']({ files }, neverAborted));
  expect(await host.handlers['advice.get']({ capture: capture.id }, neverAborted)).toEqual(adviseCapture(capture));

  const empty = await record();
  send('2.5\r\n');
  const refused = await host.handlers['advice.get']({ capture: empty }, neverAborted);
  expect(refused).toMatchObject({ ok: false, fault: { message: expect.stringMatching(/\S/u) as string } });
});
