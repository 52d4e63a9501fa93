import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createLineDecoder } from '../../../shared/instruments/decode.ts';
import { deriveProfile, type DerivedFormat } from '../../../shared/instruments/derive/derive-profile.ts';
import type { NumberSelection } from '../../../shared/instruments/derive/selection.ts';
import { guessComma, tokenizeLine } from '../../../shared/instruments/derive/line-tokens.ts';
import { Profile } from '../../../shared/model/profile.ts';

const overload = ['OL', '-OL', '----'];

/** Selects the first token of the line with exactly this text. */
function select(
  line: string,
  text: string,
  role: 'pilot_pressure' | 'flame_signal',
  unit: string,
  lines = [line],
): NumberSelection {
  const token = tokenizeLine(line, guessComma(lines)).find(({ from, to }) => line.slice(from, to) === text);
  if (!token) throw new Error(`no token ${text} in ${line}`);
  return { line, from: token.from, to: token.to, role, unit } as NumberSelection;
}
const profileOf = ({ line, channels }: DerivedFormat) => Profile.parse({ name: 'derived', line, channels, overload });
const derive = (lines: string[], selections: NumberSelection[]) => {
  const best = deriveProfile(lines, selections, overload, guessComma(lines))[0];
  if (!best) throw new Error('no format was found');
  const decode = createLineDecoder(profileOf(best));
  const read = lines.map((line) =>
    Object.fromEntries(decode(line).map(({ role, value, flag }) => [role, flag ?? value])),
  );
  return { best, read };
};

// Lines as meters and loggers print them: common practice. What each holds is read off by eye.
describe('the simplest format that reads the selected numbers', () => {
  it('one number a line with its unit, zeros before it and a sign', () => {
    const lines = ['+002.31 inH2O', '+002.29 inH2O', '-000.02 inH2O', '   OL   inH2O'];
    const { best, read } = derive(lines, [select(lines[0]!, '+002.31', 'pilot_pressure', 'inH2O', lines)]);
    expect(best.line).toEqual({ format: 'number' });
    expect(read.map((one) => one['pilot_pressure'])).toEqual([2.31, 2.29, -0.02, 'overload']);
    expect(best.linesRead).toBe(4);
  });

  it('named fields between semicolons', () => {
    const lines = ['P1=1.234;S=4.56', 'P1=1.240;S=OL'];
    const { best, read } = derive(lines, [
      select(lines[0]!, '4.56', 'flame_signal', 'V', lines),
      select(lines[0]!, '1.234', 'pilot_pressure', 'inH2O', lines),
    ]);
    expect(best.line).toEqual({ format: 'delimited', delimiter: ';' });
    expect(read).toEqual([
      { flame_signal: 4.56, pilot_pressure: 1.234 },
      { flame_signal: 'overload', pilot_pressure: 1.24 },
    ]);
  });

  it('named fields after a running number are found by their names', () => {
    const lines = ['#1 P1=1.234;S=4.56', '#2 P1=1.240;S=OL'];
    const { best, read } = derive(lines, [
      select(lines[0]!, '1.234', 'pilot_pressure', 'inH2O', lines),
      select(lines[0]!, '4.56', 'flame_signal', 'V', lines),
    ]);
    expect(best.line.format).toBe('pattern');
    expect(read).toEqual([
      { pilot_pressure: 1.234, flame_signal: 4.56 },
      { pilot_pressure: 1.24, flame_signal: 'overload' },
    ]);
  });

  it('padded fields between commas, with a word for overload', () => {
    const lines = ['  1.20, 3.4,OL', '  1.25, 3.5,12.0'];
    const { best, read } = derive(lines, [select(lines[0]!, '3.4', 'flame_signal', 'uA', lines)]);
    expect(best.line).toEqual({ format: 'delimited', delimiter: ',' });
    expect(best.channels[0]!.field).toBe(1);
    expect(read.map((one) => one['flame_signal'])).toEqual([3.4, 3.5]);
  });

  it('a number with an exponent after a word with a digit', () => {
    const lines = ['NR3 +1.23456E+00', 'NR3 -2.50000E-01', 'NR3 +9.90000E+37'];
    const { best, read } = derive(lines, [select(lines[0]!, '+1.23456E+00', 'flame_signal', 'V', lines)]);
    expect(best.line).toEqual({ format: 'number' });
    expect(read.map((one) => one['flame_signal'])).toEqual([1.23456, -0.25, 'overload']);
  });

  it('decimal commas between semicolons, and between tabs', () => {
    for (const tab of [';', '\t']) {
      const lines = [`12:00:01${tab}2,31${tab}4,60`, `12:00:02${tab}2,30${tab}4,61`];
      const { best, read } = derive(lines, [
        select(lines[1]!, '2,30', 'pilot_pressure', 'mbar', lines),
        select(lines[1]!, '4,61', 'flame_signal', 'V', lines),
      ]);
      expect(best.line).toEqual({ format: 'delimited', delimiter: tab });
      expect(read[0]).toEqual({ pilot_pressure: 2.31, flame_signal: 4.6 });
    }
  });

  it('a date before the number is skipped', () => {
    const lines = ['2026-03-04 12:30:11 2.31', '2026-03-04 12:30:12 2.32'];
    const { best, read } = derive(lines, [select(lines[0]!, '2.31', 'pilot_pressure', 'inH2O', lines)]);
    expect(best.line).toEqual({ format: 'delimited', delimiter: ' ' });
    expect(read.map((one) => one['pilot_pressure'])).toEqual([2.31, 2.32]);
  });

  it('a number directly after its name needs a pattern', () => {
    const lines = ['T21.5P1.234', 'T21.6P1.250'];
    const { best, read } = derive(lines, [select(lines[0]!, '1.234', 'pilot_pressure', 'kPa', lines)]);
    expect(best.line.format).toBe('pattern');
    expect(read.map((one) => one['pilot_pressure'])).toEqual([1.234, 1.25]);
  });

  it('two meters that send alternately are distinguished by their names', () => {
    const lines = ['P=1.20', 'S=3.40', 'P=1.21', 'S=OL'];
    const { best, read } = derive(lines, [
      select(lines[0]!, '1.20', 'pilot_pressure', 'inH2O', lines),
      select(lines[1]!, '3.40', 'flame_signal', 'V', lines),
    ]);
    expect(best.line.format).toBe('pattern');
    expect(read).toEqual([
      { pilot_pressure: 1.2 },
      { flame_signal: 3.4 },
      { pilot_pressure: 1.21 },
      { flame_signal: 'overload' },
    ]);
  });

  it('with only one of the two selected, the other is not read as it', () => {
    const lines = ['P=1.20', 'S=3.40', 'P=1.21'];
    const { best, read } = derive(lines, [select(lines[0]!, '1.20', 'pilot_pressure', 'inH2O', lines)]);
    expect(read[1]).toEqual({ pilot_pressure: 'unreadable' });
    expect(best.linesRead).toBe(2);
    expect(best.linesWrong).toBe(0);
  });

  it('a pattern still converts from the unit that the meter prints', () => {
    const lines = ['a1b2.31 kPa', 'a1b2310 Pa'];
    const { best, read } = derive(lines, [select(lines[0]!, '2.31', 'pilot_pressure', 'Pa', lines)]);
    expect(best.line.format).toBe('pattern');
    expect(read.map((one) => one['pilot_pressure'])).toEqual([2310, 2310]);
  });

  it('equal numbers side by side are not mixed up', () => {
    const lines = ['4.60 4.60', '4.60 4.61'];
    const second = tokenizeLine(lines[0]!, 'separator')[1]!;
    const { best, read } = derive(lines, [{ line: lines[0]!, ...second, role: 'flame_signal', unit: 'V' }]);
    expect(best.line.format).toBe('delimited');
    expect(read.map((one) => one['flame_signal'])).toEqual([4.6, 4.61]);
  });

  it('no selection gives no format, and neither does one number for two channels', () => {
    expect(deriveProfile(['2.31'], [], overload, 'decimal')).toEqual([]);
    const one = select('2.31', '2.31', 'pilot_pressure', 'inH2O');
    const both = [one, { ...one, role: 'flame_signal', unit: 'V' } as NumberSelection];
    expect(deriveProfile(['2.31'], both, overload, 'decimal')).toEqual([]);
  });
});

describe('the tokens of a line', () => {
  const texts = (line: string, comma: 'decimal' | 'separator') =>
    tokenizeLine(line, comma).map(({ from, to, kind }) =>
      [kind === 'number' ? '#' : '', line.slice(from, to)].join(''),
    );
  it.each([
    ['+002.31 inH2O', 'decimal', ['#+002.31', 'inH2O']],
    ['P1=1.234;S=4.56', 'decimal', ['P1', '#1.234', 'S', '#4.56']],
    ['  1.20, 3.4,OL', 'separator', ['#1.20', '#3.4', 'OL']],
    ['1,20;-OL;----', 'decimal', ['#1,20', '-OL', '----']],
    ['12,34', 'separator', ['#12', '#34']],
    ['NR3 +1.23456E+00', 'decimal', ['NR3', '#+1.23456E+00']],
    ['2026-03-04 12:30:11.5 .5', 'decimal', ['2026-03-04', '12:30:11.5', '#.5']],
    ['T21.5P1.234', 'decimal', ['T', '#21.5', 'P', '#1.234']],
  ] as const)('%s', (line, comma, parts) => {
    expect(texts(line, comma)).toEqual(parts);
  });
  it('a comma is part of the number unless the lines show otherwise', () => {
    expect(guessComma(['2,31', '2,30'])).toBe('decimal');
    expect(guessComma(['2,31;4,6'])).toBe('decimal');
    expect(guessComma(['2.3,4.6'])).toBe('separator');
    expect(guessComma(['1, 2'])).toBe('separator');
    expect(guessComma(['1,2,3'])).toBe('separator');
  });
});

// Layouts are drawn: names, units and separators around numbers whose values the test itself writes.
const layouts = fc.record({
  names: fc.constantFrom(['', '', ''], ['P=', 'S=', 'T='], ['P1: ', 'S1: ', 'T1: '], ['a ', 'b ', 'c ']),
  units: fc.constantFrom(['', '', ''], [' inH2O', ' V', ' C'], ['inH2O', 'V', 'C']),
  separator: fc.constantFrom(';', '\t', ', ', ' ', ' | ', '; '),
  lead: fc.constantFrom('', '  ', '12:00:01 '),
  mark: fc.constantFrom('.', ','),
  decimals: fc.integer({ min: 1, max: 3 }),
  fields: fc.integer({ min: 1, max: 3 }),
  order: fc.constantFrom([0, 1, 2], [2, 1, 0], [1, 2, 0]),
});
const thousandths = fc.array(fc.tuple(fc.integer({ min: -9999, max: 9999 }), fc.nat(9999), fc.nat(9999)), {
  minLength: 1,
  maxLength: 8,
});

describe('a drawn layout', () => {
  it('is read back as it was written by a format that reads every line, which is always found', () => {
    fc.assert(
      fc.property(layouts, thousandths, (layout, rows) => {
        const { names, units, separator, lead, decimals, fields, order } = layout;
        const mark = separator.startsWith(',') ? '.' : layout.mark;
        const shown = order.filter((index) => index < fields);
        const spans: { from: number; to: number }[] = [];
        const lines = rows.map((row, at) => {
          let line = lead;
          shown.forEach((index, place) => {
            if (place > 0) line += separator;
            line += names[index];
            const text = (row[index] / 1000).toFixed(decimals).replace('.', mark);
            if (at === 0) spans[index] = { from: line.length, to: line.length + text.length };
            line += text + units[index];
          });
          return line;
        });
        const selected: NumberSelection[] = [{ line: lines[0]!, ...spans[0]!, role: 'pilot_pressure', unit: 'inH2O' }];
        if (fields > 1) selected.push({ line: lines[0]!, ...spans[1]!, role: 'flame_signal', unit: 'V' });
        const comma = mark === ',' ? 'decimal' : 'separator';
        for (const { from, to } of selected)
          expect(tokenizeLine(lines[0]!, comma)).toContainEqual({ from, to, kind: 'number' });
        const best = deriveProfile(lines, selected, overload, comma)[0];
        expect(best?.linesRead).toBe(lines.length);
        const decode = createLineDecoder(profileOf(best!));
        rows.forEach((row, at) => {
          const wanted = selected.map(({ role }, index) => [role, Number((row[index]! / 1000).toFixed(decimals))]);
          const found = decode(lines[at]!).map(({ role, value }) => [role, value + 0]);
          expect(Object.fromEntries(found), lines[at]).toEqual(
            Object.fromEntries(wanted.map(([role, value]) => [role, (value as number) + 0])),
          );
        });
      }),
      { numRuns: 500 },
    );
  });
});
