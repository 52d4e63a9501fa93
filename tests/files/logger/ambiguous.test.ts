import { describe, expect, it } from 'vitest';
import { readMapping } from '../../../shared/files/logger/read-mapping.ts';
import { proposeMapping } from '../../../shared/files/logger/propose-mapping.ts';
import { readLoggerFile } from '../../../shared/files/logger/read-logger-file.ts';
import { utf8 } from './manners.ts';

const read = (lines: string[], map?: object) => {
  const mapping = map && readMapping({ file: 'map.json', text: JSON.stringify(map) });
  if (mapping && !mapping.ok) throw new Error(mapping.fault.message);
  return readLoggerFile({ file: 'f.txt', bytes: utf8(`${lines.join('\n')}\n`), mapping: mapping?.value.mapping });
};
const table = (heading: string, times: string[], cells = '1.25;4.5') => [heading, ...times.map((t) => `${t};${cells}`)];
const usual = 'Time [s];Pressure [mbar];Flame [V]';
const numbers = ['0.0', '0.5', '1.0', '1.5'];

describe('what the data leave open is asked for', () => {
  const dates = ['03/04/2026 10:00:00', '03/04/2026 10:00:01', '03/04/2026 10:00:02', '04/04/2026 09:00:00'];
  it.each([
    ['day or month first', table('Time;Pressure [mbar];Flame [V]', dates), 'time.format'],
    ['hours or minutes', table('Time;Pressure [mbar];Flame [V]', ['10:00', '10:01', '10:02']), 'time.format'],
    ['a time without a unit', table('Time;Pressure [mbar];Flame [V]', numbers), 'time.format'],
    ['a pressure without a unit', table('Time [s];Pressure;Flame [V]', numbers), 'columns'],
    ['a unit that is not known', table('Time [s];Pressure [inHg];Flame [V]', numbers), 'columns'],
    ['a unit of another kind', table('Time [s];Pressure [V];Flame [V]', numbers), 'columns'],
    ['milli or mega', table('Time [s];Pressure [MPa];Flame [V]', numbers), 'columns'],
    ['two pressures', table('Time [s];Pressure 1 [mbar];Pressure 2 [mbar]', numbers), 'columns'],
    ['a battery is no flame', table('Time [s];Pressure [mbar];Battery [V]', numbers), 'columns'],
    ['thousands or decimals', table(usual, ['1', '2', '3', '4'], '2,514;4,619'), 'decimal'],
    ['points and commas', table(usual, numbers, '2,51;4,61'), 'decimal'],
    [
      'a comma for both',
      ['t [s],Pressure [mbar],Flame [V]', '0,0,2,51,4,6', '0,5,2,52,4,6', '1,0,2,53,4,6'],
      'separator',
    ],
    ['a unit line that contradicts', [usual, 's;Pa;V', ...table('', numbers).slice(1)], 'columns'],
    ['a clock of twelve hours', table('Time;Pressure [mbar];Flame [V]', ['12:59:58', '12:59:59', '01:00:00']), 'time'],
  ])('%s', (_, lines, key) => {
    const found = read(lines);
    expect(found).toMatchObject({ ok: false, fault: { facts: { key } } });
    expect(found.ok ? '' : found.fault.message).toContain(`--map, with "${key}"`);
  });

  it('and taken from the map', () => {
    const lines = table('Time;Pressure;Flame [V]', dates);
    const columns = [
      { column: 'Pressure', role: 'pilot_pressure', unit: 'mbar' },
      { column: 'Flame [V]', role: 'flame_signal' },
    ];
    // From 3 April 10:00 to 4 April 9:00, and from 4 March to 4 April.
    for (const [format, seconds] of [
      ['dd/MM/yyyy HH:mm:ss', 23 * 3600],
      ['MM/dd/yyyy HH:mm:ss', 31 * 86_400 - 3600],
    ] as const) {
      const found = read(lines, { time: { column: 'Time', format }, columns });
      if (!found.ok) throw new Error(found.fault.message);
      expect(found.value.capture.readings.at(-1)).toMatchObject({ role: 'flame_signal', value: 4.5 });
      if (format.startsWith('dd')) expect(found.value.capture.readings.at(-1)!.elapsedS).toBe(seconds);
    }
    expect(
      read(table(usual, numbers), { columns: [{ column: 'Pressure [mbar]', role: 'pilot_pressure', unit: 'Pa' }] }),
    ).toMatchObject({
      fault: { code: 'map-unclear', facts: { key: 'columns' } },
    });
  });

  it('and proposed with all that is open, for a screen', () => {
    const found = proposeMapping('f.txt', table('Time;Pressure;Flame [V]', numbers).join('\n'));
    if (!found.ok) throw new Error(found.fault.message);
    expect(found.value.separator).toBe(';');
    expect(found.value.open.map(({ fault }) => fault.code)).toEqual(['map-ambiguous', 'map-unclear']);
    expect(found.value.columns).toMatchObject([{ role: 'flame_signal', unit: 'V' }]);
  });
});

describe('cells and files that are no numbers', () => {
  it('are flagged and named', () => {
    const found = read([usual, '0.0;1.5;4.5', '0.5;OL;4.4', '1.0;ERR;---', '1.5;1.6;4.6', 'End of file']);
    if (!found.ok) throw new Error(found.fault.message);
    expect(found.value.capture.readings.map(({ flag }) => flag ?? '')).toEqual([
      '',
      '',
      'overload',
      '',
      'unreadable',
      'overload',
      '',
      '',
    ]);
    expect(found.value.notices.join('\n')).toMatch(
      /"End of file" is no time[^]*2 cells of "Pressure \[mbar\]" are no numbers/u,
    );
  });

  it.each([
    ['NUL bytes', utf8('Time [s];Pressure [mbar]\0\n')],
    ['a long line', utf8(`Time [s];${'x'.repeat(200_000)}\n`)],
    ['half of UTF-16', Uint8Array.from([0xff, 0xfe, 0x41])],
    ['many columns', utf8(`${'a;'.repeat(3000)}\n`.repeat(5))],
    ['nothing', new Uint8Array()],
  ])('are refused in words: %s', (_, bytes) => {
    const found = readLoggerFile({ file: 'f.txt', bytes });
    expect(found.ok ? '' : found.fault.message).toMatch(/^f\.txt/u);
  });
});
