import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeDataPackage, writeZip } from '../../shared/files/data-package.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';
import { callCommand } from '../helpers/call-command.ts';
import { jsonLines } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';

/** The package of a simulated visit with three more rows that cannot be used, as a zip and as a folder; gives the number of rows. */
function writeSpoiled(folder: string): number {
  const entries = writeDataPackage(simulateVisit('clean', 1).capture);
  const text = new TextDecoder().decode(entries.get('readings.csv'));
  const spoiled = `${text}NaN,flame_signal,1,V,,,\n1,flame_signal,1,lux,,,\n1,mood,1,V,,,\n`;
  entries.set('readings.csv', new TextEncoder().encode(spoiled));
  entries.delete('lines.csv');
  writeFileSync(join(folder, 'visit.zip'), writeZip(entries));
  mkdirSync(join(folder, 'visit'));
  for (const [path, bytes] of entries) writeFileSync(join(folder, 'visit', path), bytes);
  return spoiled.split('\n').length - 2;
}

describe.each(['visit.zip', 'visit'])('the unusable rows of the package %s', (what) => {
  it.each([
    ['analyze', [what]],
    ['import', [what]],
    ['convert', [what, 'out.csv']],
    ['report', [what, '--out', 'out.html']],
  ])('are reported by %s', async (command, args) => {
    const folder = testFolder();
    const rows = writeSpoiled(folder);
    const { status, err } = await callCommand([command, ...args], folder);
    expect(status).toBe(0);
    expect(err).toContain(`${what}: lines.csv is named in datapackage.json, but is not in the package.\n`);
    expect(err).toContain(
      `${what}: readings.csv: 3 of ${rows} rows were left out, the first is row ${rows - 1}: elapsed_s must be a number of seconds, not "NaN".\n`,
    );
  });

  it('are in the JSON of an import, which has no notices for a complete package', async () => {
    const folder = testFolder();
    writeSpoiled(folder);
    const [spoiled] = jsonLines((await callCommand(['import', what, '--json'], folder)).out);
    expect(spoiled).toMatchObject({
      added: true,
      notices: [
        expect.stringContaining('lines.csv is named'),
        expect.stringContaining('rows were left out'),
        expect.stringContaining('name a raw line that is not in the package'),
      ],
    });
    writeFileSync(join(folder, 'whole.zip'), writeZip(writeDataPackage(simulateVisit('clean', 2).capture)));
    const whole = await callCommand(['import', 'whole.zip', '--json'], folder);
    expect(whole).toMatchObject({ status: 0, err: '' });
    expect(Object.keys(jsonLines(whole.out)[0] ?? {})).toEqual(['file', 'id', 'added']);
  });
});

it('import reports the unknown columns of a CSV, as analyze does', async () => {
  const folder = testFolder();
  writeFileSync(join(folder, 'a.csv'), 'elapsed_s,flame_signal_V,mood\n0,1,2\n');
  expect(await callCommand(['import', 'a.csv'], folder)).toMatchObject({
    status: 0,
    err: 'a.csv: the column mood is not known and was left out.\n',
  });
});
