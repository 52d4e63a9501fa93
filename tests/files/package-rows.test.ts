import { describe, expect, it } from 'vitest';
import { readDataPackage, writeDataPackage } from '../../shared/files/data-package.ts';
import { readWideCsv } from '../../shared/files/wide-csv.ts';
import type { Capture } from '../../shared/model/capture.ts';

const encode = (text: string) => new TextEncoder().encode(text);
const heading = 'elapsed_s,channel,value,unit';

const read = (tables: Record<string, string>, descriptor = '{"resources":[]}') =>
  readDataPackage({
    file: 'a.zip',
    entries: new Map(
      Object.entries({ 'datapackage.json': descriptor, ...tables }).map(([name, text]) => [name, encode(text)]),
    ),
  });
const good = (tables: Record<string, string>, descriptor?: string) => {
  const outcome = read(tables, descriptor);
  if (!outcome.ok) throw new Error(outcome.fault.message);
  return outcome.value;
};

describe('a row of a package that cannot be used', () => {
  it.each([
    ['NaN,flame_signal,1,V', 'elapsed_s must be a number of seconds, not "NaN"'],
    ['1e999,flame_signal,1,V', 'elapsed_s must be a number of seconds, not "1e999"'],
    ['soon,flame_signal,1,V', 'elapsed_s must be a number of seconds, not "soon"'],
    [',flame_signal,1,V', 'elapsed_s is empty'],
    ['2,mood,1,V', 'the channel "mood" is not known'],
    ['2,flame_signal,1,lux', 'flame_signal is known in V, mV, uA, mA, percent, not in "lux"'],
  ])('(%s) is reported with its number and the reason', (row, reason) => {
    const one = good({ 'readings.csv': `${heading}\n1,flame_signal,4.5,V\n${row}\n` });
    expect(one.capture.readings).toMatchObject([{ elapsedS: 1, value: 4.5 }]);
    expect(one.notices).toEqual([`a.zip: readings.csv: 1 of 2 rows was left out, row 3: ${reason}.`]);
    const more = good({ 'readings.csv': `${heading}\n1,flame_signal,4.5,V\n${row}\n${row}\n,,,\n` });
    expect(more.notices).toEqual([`a.zip: readings.csv: 3 of 4 rows were left out, the first is row 3: ${reason}.`]);
  });

  it('is reported of raw lines and marks as well, and a repeated line number is refused', () => {
    const { capture, notices } = good({
      'readings.csv': `${heading},line\n1,flame_signal,4.5,V,1\n2,flame_signal,4.5,V,3\n`,
      'lines.csv': 'line,elapsed_s,port,encoding,raw\n1,1,COM3,utf8,4.5\n1,2,COM3,utf8,4.6\nx,3,COM3,utf8,4.7\n',
      'marks.csv': 'elapsed_s,kind,text\n0,party,\n1,note,here\n',
    });
    expect(capture.lines).toMatchObject([{ seq: 1, raw: '4.5' }]);
    expect(capture.marks).toMatchObject([{ text: 'here' }]);
    expect(notices).toEqual([
      'a.zip: readings.csv: 1 of its readings names a raw line that is not in the package.',
      'a.zip: lines.csv: 2 of 3 rows were left out, the first is row 3: there is a line 1 before it.',
      'a.zip: marks.csv: 1 of 2 rows was left out, row 2: the kind "party" is not known.',
    ]);
  });

  it('is not one whose value is no number: that is kept as a flagged reading, with its text', () => {
    const { capture, notices } = good({ 'readings.csv': `${heading}\n1,flame_signal,1e999,V\n2,flame_signal,Err,V\n` });
    expect(capture.readings).toMatchObject([
      { flag: 'unreadable', raw: '1e999' },
      { flag: 'unreadable', raw: 'Err' },
    ]);
    expect(notices).toEqual([]);
  });

  it('makes the package unusable when there is no other', () => {
    expect(read({ 'readings.csv': `${heading}\n1,mood,1,V\n2,mood,2,V\n` })).toMatchObject({
      ok: false,
      fault: {
        code: 'package-invalid',
        message:
          'a.zip is not a usable data package: readings.csv: 2 of 2 rows were left out, the first is row 2: the channel "mood" is not known.',
      },
    });
    expect(read({ 'readings.csv': `${heading}\n` })).toMatchObject({
      ok: false,
      fault: { message: 'a.zip is not a usable data package: it contains no rows of readings.' },
    });
  });

  it('is reported of a CSV in the same words', () => {
    const csv = readWideCsv({ file: 'a.csv', text: 'elapsed_s,flame_signal_V\n0,1\nNaN,2\n,3\n' });
    expect(csv.ok && csv.value.notices).toEqual([
      'a.csv: 2 of 3 rows were left out, the first is row 3: elapsed_s must be a number of seconds, not "NaN".',
    ]);
  });
});

describe('a table of a package that is not there', () => {
  const own: Capture = { id: 's', meters: [], setup: {}, readings: [], lines: [], marks: [], trials: [], notes: [] };

  it.each(['lines.csv', 'marks.csv', 'trials.csv', 'setup.json'])(
    'is reported when the package names it: %s',
    (name) => {
      const entries = writeDataPackage(own);
      entries.delete(name);
      const outcome = readDataPackage({ file: 'a.zip', entries });
      expect(outcome.ok && outcome.value.notices).toEqual([
        `a.zip: ${name} is named in datapackage.json, but is not in the package.`,
      ]);
    },
  );

  it('is not reported when the package does not name it, and a visit without lines is complete', () => {
    expect(good({ 'readings.csv': `${heading}\n1,flame_signal,4.5,V\n` }).notices).toEqual([]);
    const outcome = readDataPackage({ file: 'a.zip', entries: writeDataPackage(own) });
    expect(outcome).toEqual({ ok: true, value: { capture: own, notices: [] } });
  });
});
