import { readdirSync, readFileSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { writeDataPackage, writeZip } from '../../../../shared/files/data-package.ts';
import { simulateVisit } from '../../../../shared/practice/simulate.ts';
import { testFolder } from '../../../helpers/test-folder.ts';
import { neverAborted, openTestHost, valueOf } from '../../test-host.ts';

it('screen, comparison and report take what is kept, give the same when it is damaged, and another after a discarded trial', async () => {
  const folder = testFolder();
  const { host } = await openTestHost(folder);
  const bytes = writeZip(writeDataPackage(simulateVisit('clean', 1).capture));
  const files = [{ name: 'visit.zip', bytes }];
  const [imported] = valueOf(await host.handlers['files.import']({ files }, neverAborted)).captures;
  const capture = imported!.id;
  const analyze = async () => valueOf(await host.handlers['analysis.run']({ capture }, neverAborted));
  const results = join(folder, 'results');
  const kept = () => readdirSync(results).map((name) => join(results, name));

  const first = await analyze();
  const [file] = kept();
  // Taken as it is kept: it is not written again, which a report of it proves too.
  utimesSync(file!, 1, 1);
  const content = readFileSync(file!);
  expect(await analyze()).toStrictEqual(first);
  valueOf(await host.handlers['report.make']({ capture, format: 'html' }, neverAborted));
  expect(kept()).toEqual([file]);
  expect(readFileSync(file!).equals(content)).toBe(true);
  expect(statSync(file!).mtimeMs).toBeGreaterThan(1000); // it was used

  writeFileSync(file!, content.subarray(0, -7));
  expect(await analyze()).toStrictEqual(first);
  const repaired = readFileSync(file!);
  expect(await analyze()).toStrictEqual(first);
  expect(readFileSync(file!).equals(repaired)).toBe(true);

  const { trials } = valueOf(await host.handlers['captures.get']({ capture }, neverAborted));
  const trial = trials.find(({ lit }) => lit)!.id;
  valueOf(await host.handlers['trials.void']({ capture, trial, reason: 'entered for the wrong burner' }, neverAborted));
  expect((await analyze()).result.lightOff!.trials).toBe(first.result.lightOff!.trials - 1);
});
