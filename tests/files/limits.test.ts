import { describe, expect, it } from 'vitest';
import { readDataPackage, readZip, writeZip } from '../../shared/files/data-package.ts';
import { readTrialsCsv } from '../../shared/files/trials-csv.ts';
import { readWideCsv } from '../../shared/files/wide-csv.ts';
import { readJson } from '../../shared/model/validation/json-text.ts';
import { claimSize } from './claim-size.ts';

const encode = (text: string) => new TextEncoder().encode(text);
const descriptor = '{"resources":[]}';
const heading = 'elapsed_s,channel,value,unit\n';
const sixMillion = 6_000_000;

const tooLarge = (file: string, found: string, most: string) => ({
  ok: false,
  fault: {
    code: 'file-too-large',
    message: `${file} is too large: it holds ${found}, and the limit is ${most}. Split it into smaller files.`,
  },
});

describe('a file that is too large', () => {
  it.each([
    ['LF', '\n'],
    ['CR', '\r'],
    ['CRLF', '\r\n'],
  ])('is refused by its rows before they are parsed, in a CSV of line endings (%s)', (_name, end) => {
    const text = `elapsed_s,flame_signal_V${end}${end.repeat(sixMillion - 1)}`;
    expect(readWideCsv({ file: 'a.csv', text })).toMatchObject(tooLarge('a.csv', '6,000,000 rows', '5,000,000'));
  });

  it.each(['readings.csv', 'lines.csv', 'marks.csv', 'trials.csv'])('is refused by %s in a package', (name) => {
    const entries = new Map([
      ['datapackage.json', encode(descriptor)],
      ['readings.csv', encode(`${heading}0,flame_signal,1,V\n`)],
    ]);
    entries.set(name, encode(heading + '\n'.repeat(sixMillion - 1)));
    expect(readDataPackage({ file: 'a.zip', entries })).toMatchObject(
      tooLarge(`a.zip: ${name}`, '6,000,000 rows', '5,000,000'),
    );
  });

  it('is refused by its cells, and by its columns', () => {
    const read = (text: string) => readTrialsCsv({ file: 't.csv', text });
    expect(read(`lit\n${'";'.repeat(35_000_000)}`)).toMatchObject(tooLarge('t.csv', '70,000,000 cells', '60,000,000'));
    expect(read(`lit${','.repeat(1999)}\n`)).toMatchObject(tooLarge('t.csv', '2,000 columns', '1,000'));
  });

  it('is refused by the sizes in the directory of a zip, before anything is unpacked', () => {
    const zip = writeZip(
      new Map([
        ['datapackage.json', encode(descriptor)],
        ['readings.csv', encode(heading)],
      ]),
    );
    const one = claimSize(zip, 'readings.csv', 600_000_000);
    expect(readZip(one, 'a.zip')).toMatchObject(tooLarge('a.zip: readings.csv', '600 MB', '500 MB'));
    const films = new Map(['1', '2', '3'].map((name) => [name, encode(heading)]));
    const all = ['1', '2', '3'].reduce((bytes, name) => claimSize(bytes, name, 400_000_000), writeZip(films));
    expect(readZip(all, 'a.zip')).toMatchObject(tooLarge('a.zip', '1,200 MB', '1,000 MB'));
  });

  it('is not a table of a million blank lines and comments before its heading', () => {
    const read = readWideCsv({ file: 'a.csv', text: `${'# \n\n'.repeat(1_000_000)}elapsed_s;flame_signal_V\n0;1,5\n` });
    expect(read.ok && read.value.capture.readings).toMatchObject([{ value: 1.5 }]);
  });

  it('is refused as JSON before its fault is searched', () => {
    expect(readJson('\n'.repeat(6_000_000))).toEqual({
      ok: false,
      problem: 'it holds 6000000 characters, and at most 5000000 are taken',
    });
  });
});
