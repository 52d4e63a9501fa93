import { closeSync, ftruncateSync, mkdirSync, openSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeZip } from '../../shared/files/data-package.ts';
import { claimSize } from '../files/claim-size.ts';
import { runCommand } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';

/** A sparse file of `bytes` NULs, which takes no space on the disk. */
function writeHollow(path: string, bytes: number): void {
  const file = openSync(path, 'w');
  ftruncateSync(file, bytes);
  closeSync(file);
}

const encode = (text: string) => new TextEncoder().encode(text);
const descriptor = encode('{"resources":[]}');

/** Each kind of file, with 600 MB or a claim of that. */
const large: [what: string, name: string, reported: string, make: (path: string) => void][] = [
  ['a CSV', 'large.csv', 'large.csv', (path) => writeHollow(path, 600_000_000)],
  [
    'a zip',
    'large.zip',
    'large.zip: readings.csv',
    (path) => {
      const zip = writeZip(new Map([['datapackage.json', descriptor]]).set('readings.csv', encode('elapsed_s\n')));
      writeFileSync(path, claimSize(zip, 'readings.csv', 600_000_000));
    },
  ],
  [
    'a package folder',
    'large',
    'large/readings.csv',
    (path) => {
      mkdirSync(path);
      writeFileSync(join(path, 'datapackage.json'), descriptor);
      writeHollow(join(path, 'readings.csv'), 600_000_000);
    },
  ],
];

describe('a file that is too large to be read', () => {
  it.each(large)(
    '(%s) is reported with its size and the limit by every command',
    async (_what, name, reported, make) => {
      const folder = testFolder();
      make(join(folder, name));
      for (const args of [
        ['analyze', name],
        ['import', name],
        ['convert', name, name.endsWith('.csv') ? 'out.zip' : 'out.csv'],
        ['report', name, '--out', 'out.html'],
      ])
        expect(await runCommand(args, folder)).toEqual({
          status: 1,
          out: '',
          err: `pilot-bench: ${reported} is too large: it holds 600 MB, and the limit is 500 MB. Split it into smaller files.\n`,
        });
    },
    30_000,
  );
});
