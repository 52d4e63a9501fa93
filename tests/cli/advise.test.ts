import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { callCommand } from '../helpers/call-command.ts';
import { jsonLines } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { setup, writeSample } from './sample-sweep.ts';

describe('advise', () => {
  it('prints one line of JSON with the documented keys', async () => {
    const folder = testFolder();
    const { status, out } = await callCommand(['advise', writeSample(folder, 'a'), '--json'], folder);
    expect(status).toBe(0);
    const [advice] = jsonLines(out);
    // One delayed trial at 2.5 as left, none plain there; a failure at 3.8.
    expect(advice).toMatchObject({
      schema: 'pilot-bench/advice@1',
      file: 'a.csv',
      next: { pressure: 2.5, sparkDelay_s: 0, reason: expect.any(String) as string },
      stop: false,
      reason: expect.any(String) as string,
      proof: { plainStillNeeded: 3, delayedStillNeeded: 0 },
    });
  });
  it('prints whole sentences with the cautions for people', async () => {
    const folder = testFolder();
    const { out } = await callCommand(['advise', writeSample(folder, 'a')], folder);
    expect(out).toContain('Next trial: at 2.50 inH2O, spark with gas.');
    expect(out).toContain('Purge in full');
    expect(out).not.toMatch(/undefined|null|NaN/u);
  });
  it('advises nothing where the setup gives neither a range nor limits, and that is no fault', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'a');
    const { makerPressureRange: _, ...bare } = setup;
    writeFileSync(join(folder, 'bare.json'), JSON.stringify(bare));
    const { status, out } = await callCommand(['advise', file, '--setup', 'bare.json', '--json'], folder);
    expect(status).toBe(0);
    expect(jsonLines(out)[0]).toMatchObject({ next: null, stop: true });
  });
  it('takes a capture of the store', async () => {
    const folder = testFolder();
    await callCommand(['import', writeSample(folder, 'a')], folder);
    const { out: list } = await callCommand(['captures', '--json'], folder);
    const { id } = jsonLines(list)[0] as unknown as { id: string };
    const { status, out } = await callCommand(['advise', id, '--json'], folder);
    expect(status).toBe(0);
    expect(jsonLines(out)[0]).toMatchObject({ file: id, next: { pressure: 2.5 } });
  });
  it.each([
    ['a file that is missing', ['nowhere.csv'], 'file-missing'],
    ['limits that are wrong', ['a.csv', '--setup', 'wrong.json'], 'setup-invalid'],
    ['a file that holds nothing of use', ['empty.csv'], 'csv-empty'],
  ])('gives the fault of %s, exit status 1', async (_, args, code) => {
    const folder = testFolder();
    writeSample(folder, 'a');
    writeFileSync(join(folder, 'empty.csv'), '');
    writeFileSync(
      join(folder, 'wrong.json'),
      JSON.stringify({ trialLimits: { low: { value: 3, unit: 'inH2O' }, high: { value: 2, unit: 'inH2O' } } }),
    );
    const { status, out, err } = await callCommand(['advise', ...args, '--json'], folder);
    expect(status).toBe(1);
    expect(jsonLines(out)[0]).toMatchObject({ file: args[0], error: { code } });
    expect(err).not.toContain(' at ');
  });
  it('refuses a wrong call, exit status 2', async () => {
    expect((await callCommand(['advise'], testFolder())).status).toBe(2);
    expect((await callCommand(['advise', 'a.csv', '--next'], testFolder())).status).toBe(2);
  });
});
