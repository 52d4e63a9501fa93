import { describe, expect, it } from 'vitest';
import { withColumnUnit, withTimeFormat, withUse } from '../../../shared/files/logger/preview/change-mapping.ts';
import { headingKey } from '../../../shared/files/logger/heading-key.ts';
import { previewMapping, type Remembered } from '../../../shared/files/logger/preview/preview-mapping.ts';
import { readLoggerFile } from '../../../shared/files/logger/read-logger-file.ts';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import type { MappingPreview } from '../../../shared/model/logger/preview.ts';
import { utf8 } from './manners.ts';

const preview = (lines: string[], mapping?: Mapping, remembered?: Remembered): MappingPreview => {
  const found = previewMapping('f.txt', utf8(`${lines.join('\n')}\n`), mapping, () => remembered);
  if (!found.ok) throw new Error(found.fault.message);
  return found.value;
};
const asks = (of: MappingPreview) => of.questions.map(({ ask }) => ask);
const uses = (of: MappingPreview) => of.table!.columns.map(({ use }) => use);
const choice = (of: MappingPreview, label: RegExp): Mapping => {
  const found = of.questions.flatMap(({ choices }) => choices).find((one) => label.test(one.label));
  if (!found) throw new Error(`no choice ${label} in ${JSON.stringify(of.questions)}`);
  return found.mapping;
};

/** Two hours around midnight of 3 April, or of 4 March, with decimal commas. */
const days = ['03/04/2026 23:00:00', '03/04/2026 23:30:00', '04/04/2026 00:30:00', '04/04/2026 01:00:00'];
const table = (heading: string, times: string[], cells = '2,51;4,6') => [heading, ...times.map((t) => `${t};${cells}`)];
const open = table('Zeit;Druck;Flamme [V]', days);
const numbers = ['0,0', '0,5', '1,0', '1,5'];

describe('the preview of a file', () => {
  it('shows its first rows, what they are taken for, and what is open', () => {
    const shown = preview(['Protocol', '', ...open]);
    expect(shown.table).toMatchObject({ separator: ';', decimal: ',', linesBefore: 2, rowCount: 4 });
    expect(shown.table!.rows[2]).toEqual(['04/04/2026 00:30:00', '2,51', '4,6']);
    expect(uses(shown)).toEqual(['time', 'pilot_pressure', 'flame_signal']);
    expect(asks(shown)).toEqual(['Which time is "03/04/2026 23:00:00"?', 'Which unit is "Druck" in?']);
    expect(shown.taken).toBeUndefined();
  });

  it('says what each answer makes of the times: two hours in April, or a month from March', () => {
    const labels = preview(open).questions[0]!.choices.map(({ label }) => label);
    expect(labels).toEqual([
      'April 3, 2026 (dd/MM/yyyy HH:mm:ss); then the file lasts 2 h 0 min',
      'March 4, 2026 (MM/dd/yyyy HH:mm:ss); then the file lasts 722 h 0 min',
    ]);
  });

  it('is read once its questions are answered, and the file with it', () => {
    const first = preview(open, choice(preview(open), /April/u));
    expect(asks(first)).toEqual(['Which unit is "Druck" in?']);
    const second = preview(open, choice(first, /^mbar$/u));
    expect(second.questions).toEqual([]);
    expect(second.taken).toContain('"Druck" as pilot pressure in mbar (its name speaks of a pressure)');
    expect(second.curves.map(({ role, elapsedS }) => [role, elapsedS.at(-1)])).toEqual([
      ['pilot_pressure', 7200],
      ['flame_signal', 7200],
    ]);
    const read = readLoggerFile({ file: 'f.txt', bytes: utf8(open.join('\n')), mapping: second.mapping });
    expect(read.ok && read.value.capture.readings.at(-1)).toMatchObject({ value: 4.6, elapsedS: 7200 });
  });

  it('keeps the lowest and the highest reading of a long file in a few hundred points', () => {
    const rows = Array.from({ length: 20_000 }, (_, i) => {
      const pressure = i === 7777 ? '9,9' : i === 12_345 ? '-1,5' : '2,5';
      return `${i};${pressure};4,6`;
    });
    const [curve] = preview(['Zeit [s];Druck [mbar];Flamme [V]', ...rows]).curves;
    expect(curve!.readings).toBe(20_000);
    expect(curve!.value.length).toBeLessThanOrEqual(400);
    const values = curve!.value.filter((one) => one !== null);
    expect([Math.min(...values), Math.max(...values)]).toEqual([-1.5, 9.9]);
    expect(curve!.elapsedS[curve!.value.indexOf(9.9)]).toBe(7777);
  });

  it('reads a file without a heading by the places of its columns', () => {
    const lines = numbers.map((t) => `${t};2,5;4,6`);
    const bare = preview(lines);
    expect(asks(bare)).toEqual(['Which line is the heading? Set the lines before it below.']);
    let shown = preview(lines, choice(bare, /no heading/u));
    for (const label of [/^column 1$/u, /^Seconds/u, /^column 2$/u, /^mbar$/u, /^column 3$/u, /^V$/u]) {
      const [question] = shown.questions;
      const found = question?.choices.find((one) => label.test(one.label));
      if (!found) throw new Error(JSON.stringify([label.source, question]));
      shown = preview(lines, found.mapping);
    }
    expect(shown.questions).toEqual([]);
    expect(uses(shown)).toEqual(['time', 'pilot_pressure', 'flame_signal']);
    expect(shown.taken).toContain('time from number 1 as s; number 2 as pilot pressure in mbar');
    expect(shown.curves[0]).toMatchObject({ elapsedS: [0, 0.5, 1, 1.5], value: [2.5, 2.5, 2.5, 2.5] });
  });

  it('shows the columns that are read beyond the first sixty as well', () => {
    const others = Array.from({ length: 70 }, (_, i) => `X${i}`);
    const heading = ['Zeit [s]', ...others, 'Druck [mbar]', 'Flamme [V]'].join(';');
    const rows = numbers.map((t) => [t, ...others.map(() => '1'), '2,5', '4,6'].join(';'));
    const { columns, furtherColumns, rows: cells } = preview([heading, ...rows]).table!;
    expect(columns.map(({ heading: name }) => name).slice(-3)).toEqual(['X58', 'Druck [mbar]', 'Flamme [V]']);
    expect(furtherColumns).toBe(11);
    expect(cells[0]!.slice(-2)).toEqual(['2,5', '4,6']);
  });

  it('reads a switch by its words, without asking for a unit', () => {
    const lines = ['Zeit [s];Druck [mbar];Flamme [V];Ventil', '0,0;2,5;4,6;on', '0,5;2,5;4,6;Off', '1,0;2,5;4,6;1'];
    const shown = preview(lines);
    const known = preview(lines, withUse(shown.mapping, shown.table!.columns, shown.table!.columns[3]!, 'pilot_valve'));
    expect(known.questions).toEqual([]);
    expect(known.curves.at(-1)).toMatchObject({ role: 'pilot_valve', value: [1, 0, 1] });
  });

  it('breaks the line at a pause and at a reading without a number, and nowhere else', () => {
    const lines = (times: number[]) => times.map((t) => `${t};${t === 3 ? 'OL' : '2,5'};4,6`);
    const heading = 'Zeit [s];Druck [mbar];Flamme [V]';
    const [pressure, flame] = preview([heading, ...lines([0, 1, 2, 3, 4, 60, 61])]).curves;
    expect(pressure!.value).toEqual([2.5, 2.5, 2.5, null, 2.5, null, 2.5, 2.5]);
    expect(flame!.value).toEqual([4.6, 4.6, 4.6, 4.6, 4.6, null, 4.6, 4.6]);
    expect(pressure).toMatchObject({ readings: 7, flagged: 1 });
    // A logger that stores once a minute.
    expect(preview([heading, ...lines([0, 60, 120, 180])]).curves[1]!.value).toEqual([4.6, 4.6, 4.6, 4.6]);
  });

  it('asks for the needed column that a mapping does not name', () => {
    const lines = table('Zeit [s];Druck [mbar];Flamme [V]', numbers);
    const shown = preview(lines, { columns: [{ column: 'Druck [mbar]', role: 'pilot_pressure' }] });
    expect(asks(shown)).toEqual(['Which column is the flame signal?']);
    expect(preview(lines, choice(shown, /Flamme/u)).questions).toEqual([]);
  });
});

describe('whatever is answered', () => {
  const cases: [string, string[]][] = [
    ['times', open],
    ['hours or minutes', table('Zeit;Druck [mbar];Flamme [V]', ['10:00', '10:01', '10:02'])],
    ['a time without a unit', table('Zeit;Druck [mbar];Flamme [V]', numbers)],
    ['two times', ['Zeit;Zeit 2;Druck [mbar];Flamme [V]', ...numbers.map((t) => `${t};${t};2,5;4,6`)]],
    ['no time', table('A;Druck [mbar];Flamme [V]', numbers)],
    ['two pressures', table('Zeit [s];Druck 1 [mbar];Druck 2 [mbar]', numbers)],
    ['two units', table('Zeit [s];Druck mbar (inH2O);Flamme % of 5 V', numbers)],
    ['statistics', table('Zeit [s];Druck max [mbar];Flamme min [V]', numbers)],
    ['nothing named', table('Zeit [s];A;B', numbers)],
    ['one name twice', table('Zeit [s];A;A', numbers)],
    ['thousands', table('Zeit [s];Druck [mbar];Flamme [V]', ['1', '2', '3', '4'], '2,514;4,619')],
    ['points and commas', table('Zeit [s];Druck [mbar];Flamme [V]', numbers, '2.51;4,61')],
    ['tabs and semicolons', numbers.map((t) => `${t};\t2,5;\t4,6`)],
    ['a comma for both', ['t [s],Druck [mbar],Flamme [V]', '0,0,2,51,4,6', '0,5,2,52,4,6', '1,0,2,53,4,6']],
    ['another unit', table('Zeit [s];Druck [inHg];Flamme [V]', numbers)],
    ['no heading', numbers.map((t) => `${t};2,5;4,6`)],
  ];
  it.each(cases)('the questions come to an end: %s', (_, lines) => {
    /** Every road through the answers. */
    const follow = (mapping: Mapping | undefined, depth: number): void => {
      const shown = preview(lines, mapping);
      // Separator, heading, time, its format, decimal sign, two columns and their units.
      expect(depth, JSON.stringify(shown.questions)).toBeLessThanOrEqual(9);
      const [question] = shown.questions;
      if (!question) expect(shown.taken ?? shown.problem).toBeTruthy();
      else for (const { mapping: next } of question.choices.slice(0, 4)) follow(next, depth + 1);
    };
    follow(undefined, 0);
  });
});

describe('what is changed by hand', () => {
  const lines = [
    'Datum;Uhrzeit;Druck [mbar];Druck 2 [Pa];Flamme [V]',
    ...['00:00:01', '00:00:02', '00:00:03'].map((t) => `14.03.2026;${t};2,5;250;4,6`),
  ];
  const changed = (
    shown: MappingPreview,
    heading: RegExp,
    use: 'time' | 'date' | 'none' | 'pilot_pressure' | 'fan_pressure',
  ) => {
    const columns = shown.table!.columns;
    return preview(
      lines,
      withUse(
        shown.mapping,
        columns,
        columns.find((one) => heading.test(one.heading))!,
        use,
      ),
    );
  };

  it('takes the place of what had that use, and keeps the rest', () => {
    const asked = preview(lines);
    expect(asks(asked)).toEqual(['Which column is the pilot pressure?']);
    const second = changed(asked, /Druck 2/u, 'pilot_pressure');
    expect(uses(second)).toEqual(['date', 'time', 'none', 'pilot_pressure', 'flame_signal']);
    expect(second.curves[0]).toMatchObject({ unit: 'Pa', value: [250, 250, 250] });
    const first = changed(second, /Druck \[/u, 'pilot_pressure');
    expect(uses(first)).toEqual(['date', 'time', 'pilot_pressure', 'none', 'flame_signal']);
    expect(first.curves[0]).toMatchObject({ unit: 'mbar', value: [2.5, 2.5, 2.5] });
    expect(uses(changed(first, /Druck 2/u, 'fan_pressure'))[3]).toBe('fan_pressure');
  });

  it('may be the time, without its date', () => {
    const shown = changed(changed(preview(lines), /Druck \[/u, 'pilot_pressure'), /Datum/u, 'none');
    expect(uses(shown)).toEqual(['none', 'time', 'pilot_pressure', 'none', 'flame_signal']);
    expect(shown.table!.timeFormat).toBe('HH:mm:ss');
    expect(uses(changed(shown, /Datum/u, 'date')).slice(0, 2)).toEqual(['date', 'time']);
  });

  it('may be a unit, or the format of the time', () => {
    const plain = table('Zeit [s];Druck;Flamme [V]', numbers);
    const shown = preview(plain);
    const column = shown.table!.columns[1]!;
    const known = preview(plain, withColumnUnit(shown.mapping, shown.table!.columns, column, 'kPa'));
    expect(known.curves[0]).toMatchObject({ unit: 'kPa' });
    const inMinutes = preview(plain, withTimeFormat(known.mapping, known.table!.columns, 'min'));
    expect(inMinutes.curves[0]!.elapsedS).toEqual([0, 30, 60, 90]);
  });

  it('that does not fit the file is said, not taken', () => {
    const shown = preview(lines, { time: { column: 'Uhrzeit', format: 'never' } });
    expect(asks(shown)[0]).toContain('does not fit');
    expect(shown.questions[0]!.why).toContain('"never" is no format of a time');
  });
});

describe('a mapping that is remembered', () => {
  const answered = preview(open, choice(preview(open, choice(preview(open), /April/u)), /^mbar$/u)).mapping;
  const usedAt = '2026-11-27T10:00:00+01:00';

  it('answers the questions of the next file of that logger', () => {
    const next = table('Zeit;Druck;Flamme [V]', ['05/06/2026 10:00:00', '05/06/2026 10:00:01', '05/06/2026 10:00:02']);
    expect(headingKey(['Another visit', ...next].join('\n'))).toBe(headingKey(open.join('\n')));
    const shown = preview(next, undefined, { mapping: answered, usedAt });
    expect(shown.questions).toEqual([]);
    expect(shown.remembered).toEqual({ usedAt });
    // What is said now counts, not what is remembered.
    expect(preview(next, {}, { mapping: answered, usedAt }).questions).toHaveLength(2);
  });

  it.each([
    [
      'its days are months',
      table('Zeit;Druck;Flamme [V]', ['05/06/2026 23:59:59', '05/13/2026 00:00:00', '05/13/2026 00:00:01']),
      /MM\/dd/u,
    ],
    ['its decimal sign is another', table('Zeit;Druck;Flamme [V]', days, '2.5;4.6'), /decimal/u],
  ])('is dropped, and that is said, where %s', (_, lines, why) => {
    const shown = preview(lines, undefined, { mapping: { ...answered, decimal: ',' }, usedAt });
    expect(shown.remembered?.misfit).toMatch(why);
    expect(shown.mapping).toEqual({});
    expect(shown.questions.length).toBeGreaterThan(0);
  });

  it('is another one where heading or units are others', () => {
    const key = (...lines: string[]) => headingKey(lines.join('\n'));
    const rows = ['0,0;2,5;4,6', '0,5;2,5;4,6', '1,0;2,5;4,6'];
    expect(key('Zeit;Druck;Flamme', 's;mbar;V', ...rows)).not.toBe(key('Zeit;Druck;Flamme', 's;Pa;V', ...rows));
    expect(key('Zeit;Druck;Flamme', ...rows)).not.toBe(key('Zeit;Druck 2;Flamme', ...rows));
  });

  it('is none where no heading tells one logger from another', () => {
    expect(headingKey(numbers.map((t) => `${t};2,5;4,6`).join('\n'))).toBeUndefined();
    expect(headingKey('Logger 7\nno table')).toBe('Logger 7');
  });

  it('gives the same capture as the answers, and as the signs of the file', () => {
    const lines = table('Zeit [s];Druck [mbar];Flamme [V]', numbers).join('\n');
    const read = (mapping?: Mapping) => {
      const found = readLoggerFile({ file: 'f.txt', bytes: utf8(lines), ...(mapping && { mapping }) });
      if (!found.ok) throw new Error(found.fault.message);
      return found.value;
    };
    const first = read();
    expect(read(first.logger!.settled).capture.id).toBe(first.capture.id);
    expect(read({ ...first.logger!.settled, time: { format: 'min' } }).capture.id).not.toBe(first.capture.id);
  });
});
