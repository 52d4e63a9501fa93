import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeDataPackage } from '../../shared/files/data-package.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';
import { callCommand } from '../helpers/call-command.ts';
import { jsonLines } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';

/** A folder "visit" with the data package of an invented visit. */
function packageIn(folder: string): string {
  const place = join(folder, 'visit');
  mkdirSync(place);
  for (const [path, bytes] of writeDataPackage(simulateVisit('clean', 1).capture))
    writeFileSync(join(place, path), bytes);
  return place;
}

/** Puts another path into the descriptor of a package. */
function repoint(place: string, resource: string, path: string): void {
  const file = join(place, 'datapackage.json');
  const descriptor = JSON.parse(readFileSync(file, 'utf8')) as { resources: { name: string; path: string }[] };
  for (const one of descriptor.resources) if (one.name === resource) one.path = path;
  writeFileSync(file, JSON.stringify(descriptor));
}

/** A sparse file, larger than any memory. */
function vastFile(path: string): void {
  writeFileSync(path, '');
  truncateSync(path, 2 ** 40);
}

/** The arguments of a command for a package. */
const argsOf = (command: string, what: string): string[] =>
  ({
    import: ['import', what],
    analyze: ['analyze', what],
    convert: ['convert', what, 'out.zip'],
    report: ['report', what, '--out', 'out.html'],
  })[command] as string[];

describe.each(['import', 'analyze', 'convert', 'report'])('%s of a folder', (command) => {
  it('that is no package is refused by its own name, without reading its content', async () => {
    const folder = testFolder();
    mkdirSync(join(folder, 'big'));
    vastFile(join(folder, 'big', 'film.bin'));
    symlinkSync('.', join(folder, 'big', 'again'));
    const { status, out, err } = await callCommand(argsOf(command, './big/'), folder);
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(err).toBe(
      'pilot-bench: ./big/ is neither a CSV file nor a data package (a .zip, or a folder with datapackage.json).\n',
    );
  });

  it('that is a package reads only the files it names, whatever else is there', async () => {
    const folder = testFolder();
    vastFile(join(packageIn(folder), 'film.bin'));
    expect(await callCommand(argsOf(command, 'visit'), folder)).toMatchObject({ status: 0 });
  }, 30_000);

  it('refuses a package that names a file outside of it', async () => {
    const folder = testFolder();
    writeFileSync(join(folder, 'secret.csv'), 'elapsed_s,channel,value,unit\n0,flame_signal,1,V\n');
    repoint(packageIn(folder), 'readings', '../secret.csv');
    const { status, out, err } = await callCommand(argsOf(command, 'visit'), folder);
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(err).toContain('visit is not a usable data package: in datapackage.json resources.0.path: it leads out');
  });

  it('follows no link out of the folder, and no loop of links', async () => {
    const folder = testFolder();
    const place = packageIn(folder);
    writeFileSync(join(folder, 'readings.csv'), 'elapsed_s,channel,value,unit\n0,flame_signal,1,V\n');
    symlinkSync('../readings.csv', join(place, 'out.csv'));
    repoint(place, 'readings', 'out.csv');
    const { status, err } = await callCommand(argsOf(command, 'visit'), folder);
    expect(status).toBe(1);
    expect(err).toContain('visit is not a usable data package: out.csv is a link that leads out of the folder.');

    symlinkSync('round.csv', join(place, 'round.csv'));
    repoint(place, 'readings', 'round.csv');
    const round = await callCommand(argsOf(command, 'visit'), folder);
    expect(round.status).toBe(1);
    expect(round.err).toContain('round.csv could not be read: its links form a loop.');
  }, 30_000);

  it('does not block on a pipe in the place of a file', async () => {
    const folder = testFolder();
    const place = packageIn(folder);
    spawnSync('mkfifo', [join(place, 'pipe.csv')]);
    repoint(place, 'lines', 'pipe.csv');
    const { status, err } = await callCommand(argsOf(command, 'visit'), folder);
    expect(status).toBe(1);
    expect(err).toContain('pipe.csv could not be read: it is not a file.');
  }, 30_000);
});

it('import names an unusable package folder as it was given', async () => {
  const folder = testFolder();
  mkdirSync(join(folder, 'sub', 'empty'), { recursive: true });
  writeFileSync(join(folder, 'sub', 'empty', 'datapackage.json'), '{"resources":[]}');
  const { out } = await callCommand(['import', 'sub/empty', '--json'], folder);
  expect(jsonLines(out)).toEqual([
    {
      file: 'sub/empty',
      error: {
        code: 'package-invalid',
        message: 'sub/empty is not a usable data package: it contains no readings.csv.',
      },
    },
  ]);
});
