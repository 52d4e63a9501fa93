import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { callCommand } from '../helpers/call-command.ts';
import { jsonLines } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { sweepCsv, writeSample } from './sample-sweep.ts';

/** Each: the problem, how the file is made, the fault's code, and a part of its sentence that names what and where. */
const bad: [what: string, make: (path: string) => void, code: string, text: string][] = [
  ['a file that is not there', () => {}, 'file-missing', 'There is no file bad.csv'],
  ['an empty file', (path) => writeFileSync(path, ''), 'csv-empty', 'bad.csv'],
  ['a heading without rows', (path) => writeFileSync(path, 'elapsed_s,flame_signal_V\n'), 'csv-empty', 'bad.csv'],
  ['another first column', (path) => writeFileSync(path, 'time,flame_signal_V\n0,1\n'), 'csv-no-elapsed', '"time"'],
  [
    'no column that is known',
    (path) => writeFileSync(path, 'elapsed_s,temperature_C\n0,1\n'),
    'csv-no-channel',
    'temperature_C',
  ],
  [
    'a unit that is no pressure',
    (path) => writeFileSync(path, 'elapsed_s,pilot_pressure_V\n0,1\n'),
    'csv-no-channel',
    'pilot_pressure_V',
  ],
  ['a folder that is no package', (path) => mkdirSync(path), 'file-kind-unknown', 'bad.csv'],
  [
    'a picture',
    (path) => writeFileSync(path, Buffer.from('89504e470d0a1a0a0000000d', 'hex')),
    'file-kind-unknown',
    'bad.csv',
  ],
  ['a zip that is cut off', (path) => writeFileSync(path, 'PK\u0003\u0004 and no more'), 'package-invalid', 'bad.csv'],
  [
    'one meter only',
    (path) => writeFileSync(path, 'elapsed_s,pilot_pressure_inH2O\n0,1\n1,2\n2,3\n'),
    'no-signal',
    'bad.csv: The capture has no valid reading of the flame signal',
  ],
  [
    'two readings',
    (path) => writeFileSync(path, 'elapsed_s,pilot_pressure_inH2O,flame_signal_V\n0,1,2\n1,2,3\n'),
    'too-few-pairs',
    'bad.csv',
  ],
  [
    'a setup with a unit that does not fit',
    (path) => {
      writeFileSync(path, sweepCsv());
      writeFileSync(path.replace('.csv', '.setup.json'), '{"minimumSignal":{"value":1,"unit":"inH2O"}}');
    },
    'setup-invalid',
    'bad.setup.json',
  ],
  [
    'a setup that is no JSON',
    (path) => {
      writeFileSync(path, sweepCsv());
      writeFileSync(path.replace('.csv', '.setup.json'), 'minimumSignal = 1.25');
    },
    'setup-invalid',
    'bad.setup.json cannot be used: it is no JSON: line 1, column 1: a value belongs there, not "m".',
  ],
  [
    'trials with an invalid word for lit',
    (path) => {
      writeFileSync(path, sweepCsv());
      writeFileSync(path.replace('.csv', '.trials.csv'), 'pressure_inH2O,spark_delay_s,lit\n2,0,perhaps\n');
    },
    'trials-invalid',
    'bad.trials.csv, line 2',
  ],
];

describe('a file that cannot be used', () => {
  it.each(bad)('(%s) gives its fault, with what and where', async (_what, make, code, text) => {
    const folder = testFolder();
    make(join(folder, 'bad.csv'));
    const { status, out, err } = await callCommand(['analyze', 'bad.csv', '--json'], folder);
    expect(status).toBe(1);
    const [result] = jsonLines(out) as [{ file: string; error: { code: string; message: string } }];
    expect(Object.keys(result)).toEqual(['file', 'error']);
    expect(result).toMatchObject({ file: 'bad.csv', error: { code } });
    expect(result.error.message).toContain(text);
    expect(err).toContain(result.error.message);
    expect(err).not.toMatch(/^\s+at .*:\d+|TypeError|undefined/mu);
  });

  it('does not stop the others, in the order given', async () => {
    const folder = testFolder();
    writeFileSync(join(folder, 'bad.csv'), '');
    const files = ['bad.csv', writeSample(folder, 'good'), 'gone.csv'];
    const { status, out } = await callCommand(['analyze', ...files, '--json'], folder);
    expect(status).toBe(1);
    const results = jsonLines(out);
    expect(results.map((result) => result['file'])).toEqual(files);
    expect(results[1]).toHaveProperty('window');
  });

  it('is reported without --json, too, and nothing is printed to standard output', async () => {
    const { status, out, err } = await callCommand(['analyze', 'gone.csv'], testFolder());
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(err).toBe('pilot-bench: There is no file gone.csv. Check its name and folder.\n');
  });

  it('can be a missing --setup', async () => {
    const folder = testFolder();
    const { status, err } = await callCommand(['analyze', writeSample(folder, 'good'), '--setup', 'gone.json'], folder);
    expect(status).toBe(1);
    expect(err).toContain('There is no file gone.json.');
  });

  it('can be a report that cannot be written', async () => {
    const folder = testFolder();
    const { status, err } = await callCommand(
      ['report', writeSample(folder, 'good'), '--out', 'no/such/folder/x.pdf'],
      folder,
    );
    expect(status).toBe(1);
    expect(err).toContain('no/such/folder/x.pdf could not be written: its folder does not exist.');
  });
});
