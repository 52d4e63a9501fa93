import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDataPackage, writeDataPackage } from '../../shared/files/data-package.ts';
import { readTable, writeTable } from '../../shared/files/table.ts';
import type { Capture } from '../../shared/model/capture.ts';

const cellsOf = (text: string) => text.split('\n').slice(1, -1);

describe('a cell that a spreadsheet would run', () => {
  // The classes that OWASP, "CSV Injection", lists: = + - @ tab and carriage return at the start of a cell.
  it.each(["=cmd|'/C calc'!A0", '=1+1', '@SUM(A1)', '+cmd|x', '-cmd|x', '-2+3+cmd(x)', '\t=1+1', '\r=1+1'])(
    'is text in what is written, and the same on reading: %j',
    (text) => {
      const written = writeTable(['a'], [[text]]);
      expect(readTable(written, { exact: true }).rows).toEqual([[text]]);
      const plain = written.split('a\n')[1]!.replace(/^"/u, '');
      expect(plain.startsWith("'")).toBe(true);
    },
  );

  it.each(['+1.23', '-0.02', '-OL', '----', '1e-3', '-', '+4.60 V', "it's 2.4", "'quoted'"])(
    'is not one that meters print, which stays as it is: %j',
    (text) => {
      expect(cellsOf(writeTable(['a'], [[text]]))).toEqual([text]);
    },
  );

  it('comes back unchanged whatever its text, with apostrophes before it too', () => {
    const text = fc.oneof(
      fc.string(),
      fc.string({ unit: fc.constantFrom("'", '=', '+', '-', '@', 'x', '|', ' ', '1') }),
    );
    fc.assert(
      fc.property(
        fc.array(
          text.filter((cell) => cell !== '' && cell !== '\uFEFF'),
          { minLength: 1 },
        ),
        (cells) => {
          const written = writeTable(
            ['a', 'b'],
            cells.map((cell) => [cell, 1]),
          );
          expect(readTable(written, { exact: true }).rows).toEqual(cells.map((cell) => [cell, '1']));
        },
      ),
      { numRuns: 1000, seed: 5 },
    );
  });
});

it('what a meter sent stays in lines.csv to the last byte, and what a person wrote comes back from a package', () => {
  const text = '=HYPERLINK(1)';
  const capture: Capture = {
    id: 'one',
    setup: {},
    meters: [],
    lines: [{ seq: 1, elapsedS: 0, port: 'COM3', raw: text, encoding: 'utf8' }],
    readings: [
      { role: 'flame_signal', unit: 'V', elapsedS: 0, value: Number.NaN, flag: 'unreadable', raw: text, line: 1 },
    ],
    marks: [{ elapsedS: 1, kind: 'note', text }],
    trials: [{ pressure: 2.4, unit: 'inH2O', sparkDelayS: 0, lit: true, reason: text }],
    notes: [],
  };
  const entries = writeDataPackage(capture);
  const tableText = (name: string) => new TextDecoder().decode(entries.get(name));
  expect(tableText('lines.csv')).toContain(`,${text}`);
  expect(tableText('marks.csv')).toContain(`,'${text}`);
  const read = readDataPackage({ file: 'visit.zip', entries });
  expect(read.ok && read.value.capture).toMatchObject(capture);
});
