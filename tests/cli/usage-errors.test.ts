import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { scenarios } from '../../shared/practice/scenarios.ts';
import { callCommand } from '../helpers/call-command.ts';
import { runCommand } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';

const commands = [
  'advise',
  'analyze',
  'captures',
  'compare',
  'convert',
  'export',
  'import',
  'ports',
  'record',
  'report',
  'serve',
  'simulate',
];

describe('the arguments of a command', () => {
  it('include --help, printed to standard output, for every command', async () => {
    const folder = testFolder();
    const { status, out } = await callCommand(['--help'], folder);
    expect(status).toBe(0);
    for (const name of commands) expect(out).toMatch(new RegExp(`^  ${name} `, 'mu'));
    for (const name of commands) {
      const help = await callCommand([name, '--help'], folder);
      expect(help.status, name).toBe(0);
      expect(help.out, name).toContain(`Usage: pilot-bench ${name}`);
    }
  }, 30_000);

  it('include --version, which prints that of the package', async () => {
    const { status, out } = await callCommand(['--version'], testFolder());
    expect(status).toBe(0);
    const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
      version: string;
    };
    expect(out).toBe(`${version}\n`);
  });

  it.each([
    ['no command', []],
    ['an unknown command', ['analyse']],
    ['an unknown option', ['analyze', '--fast', 'x.csv']],
    ['a missing argument', ['analyze']],
    ['one file where two are compared', ['compare', 'x.csv']],
    ['too many arguments', ['compare', 'x.csv', 'y.csv', 'z.csv']],
    ['a missing option', ['simulate', '--out', 'x.csv']],
    ['an option without its value', ['report', 'x.csv', '--out']],
    ['a report that is neither PDF nor HTML', ['report', 'x.csv', '--out', 'x.docx']],
    ['a seed that is no number', ['simulate', '--scenario', 'clean', '--seed', 'one', '--out', 'x.csv']],
    ['an unknown scenario', ['simulate', '--scenario', 'no-such-burner', '--out', 'x.csv']],
    ['an instrument without a profile', ['record', '--instrument', '/dev/ttyUSB0']],
    ['an unknown profile', ['record', '--instrument', '/dev/ttyUSB0=No such meter']],
    ['an invalid duration', ['record', '--instrument', 'a=b', '--for', 'long']],
    ['an export to an unknown format', ['export', 'abc', '--out', 'x.docx']],
    ['captures of a store without a name', ['captures', '--data', '']],
    ['an import into a store without a name', ['import', 'x.csv', '--data=']],
    ['a workbench on a store of blanks only', ['serve', '--data', ' ']],
    ['an invalid port number', ['serve', '--port', '70000']],
    ['converting a file into itself', ['convert', 'x.csv', './x.csv']],
  ])('with %s are refused with exit status 2, a message and no result', async (_what, args) => {
    const { status, out, err } = await callCommand(args, testFolder());
    expect(status).toBe(2);
    expect(out).toBe('');
    expect(err.trim()).not.toBe('');
    expect(err).not.toMatch(/^\s+at .*:\d+/mu);
  });

  it('with two instruments that measure the same, or are on one port, are refused before any is opened, and name both', async () => {
    const folder = testFolder();
    const gauge = '/dev/null=Manometer, one number a line';
    const pascals = 'other=Manometer, one number a line, Pa';
    const same = await runCommand(['record', '--instrument', gauge, '--instrument', pascals, '--for', '1s'], folder);
    expect(same).toEqual({
      status: 2,
      out: '',
      err: `pilot-bench: --instrument "${gauge}" and --instrument "${pascals}" both measure pilot_pressure; leave one of them out\n`,
    });
    const volts = '/dev/null=Multimeter, volts, one number a line';
    const twice = await runCommand(['record', '--instrument', gauge, '--instrument', volts, '--for', '1s'], folder);
    expect(twice).toEqual({
      status: 2,
      out: '',
      err: `pilot-bench: --instrument "${gauge}" and --instrument "${volts}" are on the same port; give each port once\n`,
    });
  });

  it('with two profile files of the same name, of which one would replace the other, are refused', async () => {
    const folder = testFolder();
    const write = (file: string, role: string, unit: string) =>
      writeFileSync(
        join(folder, file),
        JSON.stringify({ name: 'gauge', line: { format: 'number' }, channels: [{ role, unit }] }),
      );
    write('a.json', 'pilot_pressure', 'Pa');
    write('b.json', 'flame_signal', 'V');
    const args = ['record', '--instrument', 'x=a.json', '--instrument', 'y=b.json', '--for', '1s'];
    const { status, err } = await callCommand(args, folder);
    expect(status).toBe(2);
    expect(err).toContain('"x=a.json" and --instrument "y=b.json" are different profiles of the same name, "gauge"');
  });

  it('with an unknown scenario list the scenarios', async () => {
    const { err } = await callCommand(['simulate', '--scenario', 'no-such-burner', '--out', 'x.csv'], testFolder());
    expect(err).toContain('there is no scenario "no-such-burner"');
    for (const { name } of scenarios) expect(err).toMatch(new RegExp(`^  ${name}: `, 'mu'));
  });
});
