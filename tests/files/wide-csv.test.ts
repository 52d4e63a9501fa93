import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readWideCsv, writeWideCsv } from '../../shared/files/wide-csv.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';

const read = (text: string, more: { setup?: string; trials?: string } = {}) =>
  readWideCsv({
    file: 'sweep.csv',
    text,
    ...(more.setup !== undefined && { setup: { file: 'sweep.setup.json', text: more.setup } }),
    ...(more.trials !== undefined && { trials: { file: 'sweep.trials.csv', text: more.trials } }),
  });
const good = (text: string, more = {}) => {
  const outcome = read(text, more);
  if (!outcome.ok) throw new Error(outcome.fault.message);
  return outcome.value;
};
const faultOf = (text: string, more = {}) => {
  const outcome = read(text, more);
  return outcome.ok ? undefined : outcome.fault;
};
const heading = 'elapsed_s,pilot_pressure_inH2O,flame_signal_V';

describe('a wide CSV', () => {
  it('gives one reading for each non-empty cell, in the order of the rows', () => {
    const { readings } = good(`${heading}\n0.5,2.41,\n0.1,,4.6\n`).capture;
    expect(readings.map(({ role, elapsedS, value }) => [role, elapsedS, value])).toEqual([
      ['pilot_pressure', 0.5, 2.41],
      ['flame_signal', 0.1, 4.6],
    ]);
  });

  it.each([
    ['semicolons and decimal commas', 'elapsed_s;pilot_pressure_inH2O\n0,5;2,41\n'],
    ['a byte order mark and CRLF', '\uFEFFelapsed_s,pilot_pressure_inH2O\r\n0.5,2.41\r\n'],
    ['comments and blank lines', '# a logger\nelapsed_s,pilot_pressure_inH2O\n\n# more\n0.5,2.41\n'],
    ['quotes', '"elapsed_s","pilot_pressure_inH2O"\n"0.5","2.41"\n'],
  ])('may have %s', (_what, text) => {
    const [reading] = good(text).capture.readings;
    expect(reading).toMatchObject({ elapsedS: 0.5, value: 2.41, unit: 'inH2O' });
  });

  it('keeps a cell that is no number as a flagged reading, never as a number', () => {
    const { readings } = good(`${heading}\n0,OL,\n1,-OL,\n2,----,\n3,Err,\n4,,1e999\n`).capture;
    expect(readings.map(({ flag }) => flag)).toEqual(['overload', 'overload', 'overload', 'unreadable', 'unreadable']);
    expect(readings.every(({ value }) => Number.isNaN(value))).toBe(true);
  });

  it('loses no row behind a quote that is never closed', () => {
    const { readings } = good(`${heading}\n0,2.41,\n"1,2.42,\n"2","2.43",\n3,2.44,\n`).capture;
    expect(readings.map(({ value }) => value)).toEqual([2.41, 2.43, 2.44]);
  });

  it('reads switches as words or digits', () => {
    const { readings } = good('elapsed_s,ignition_on\n0,yes\n1,0\n2,no\n3,1\n').capture;
    expect(readings.map(({ value }) => value)).toEqual([1, 0, 0, 1]);
  });

  it('reports unknown columns, and a known one in a wrong unit with the units it may have', () => {
    const { notices } = good('elapsed_s,pilot_pressure_inH2O,mood,flame_signal_lux\n0,2,3,4\n');
    expect(notices).toEqual([
      'sweep.csv: the column mood is not known and was left out.',
      'sweep.csv: the column flame_signal_lux was left out; flame_signal is known in V, mV, uA, mA, percent.',
    ]);
  });

  it.each([
    ['', 'csv-empty'],
    [`${heading}\n`, 'csv-empty'],
    ['time,pilot_pressure_inH2O\n0,2\n', 'csv-no-elapsed'],
    ['elapsed_s,a,b\n0,1,2\n', 'csv-no-channel'],
    ['elapsed_s,flame_signal_V,flame_signal_V\n0,1,2\n', 'csv-column-twice'],
  ])('is refused with its fault: %j', (text, code) => expect(faultOf(text)?.code).toBe(code));

  it('names the key of a setup that is wrong, and what it may be', () => {
    const fault = faultOf(`${heading}\n0,2,\n`, { setup: '{"minimumSignal":{"value":1,"unit":"lux"}}' });
    expect(fault?.message).toContain('minimumSignal.unit must be one of V, mV, uA, mA, percent');
  });

  it('reports unknown keys of a setup, also inner ones', () => {
    const { notices } = good(`${heading}\n0,2,\n`, {
      setup: '{"colour":1,"minimumSignal":{"value":1,"unit":"V","x":2}}',
    });
    expect(notices).toEqual([
      'sweep.setup.json: the key colour is not recognized and was ignored.',
      'sweep.setup.json: the key minimumSignal.x is not recognized and was ignored.',
    ]);
  });

  it('names the line of a trial that is wrong', () => {
    const trials = 'pressure_inH2O,spark_delay_s,lit\n2,0,yes\n3,0,maybe\n';
    expect(faultOf(`${heading}\n0,2,\n`, { trials })?.message).toContain('line 3: lit must be yes or no, not "maybe"');
  });

  it('has the same id for the same content and another one for other content', () => {
    const id = (text: string) => good(text).capture.id;
    expect(id(`${heading}\n0,2,\n`)).toBe(id(`${heading}\n0,2,\n`));
    expect(id(`${heading}\n0,2,\n`)).not.toBe(id(`${heading}\n0,3,\n`));
  });

  it('writes what it reads back as the same readings, to the last bit', () => {
    const number = fc.double({ noNaN: true, noDefaultInfinity: true });
    const row = fc.tuple(number, fc.option(number, { nil: undefined }), fc.option(number, { nil: undefined }));
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 30 }), (rows) => {
        const readings = rows.flatMap(([elapsedS, p, s]) => [
          ...(p === undefined ? [] : [{ role: 'pilot_pressure', unit: 'Pa', elapsedS, value: p, raw: '' } as const]),
          ...(s === undefined ? [] : [{ role: 'flame_signal', unit: 'mV', elapsedS, value: s, raw: '' } as const]),
        ]);
        fc.pre(readings.length > 0);
        const base = { id: 'x', meters: [], setup: {}, lines: [], marks: [], trials: [], notes: [] };
        const back = good(writeWideCsv({ ...base, readings })).capture.readings;
        expect(back.map(({ role, elapsedS, value }) => [role, elapsedS, value])).toEqual(
          readings.map(({ role, elapsedS, value }) => [role, elapsedS, value]),
        );
      }),
    );
  });

  it.each([
    ['in the first line', `# practice: true\n${heading}\n0,2,\n`],
    ['where two files were joined', `${heading}\n0,2,\n# practice: true\n1,3,\n`],
    ['in the last line, without a line end', `${heading}\n0,2,\n# practice: true`],
    ['behind a byte order mark, with CRLF', `\uFEFF# practice: true\r\n${heading}\r\n0,2,\r\n`],
    ['padded by a spreadsheet', `# practice: true,,\n${heading}\n0,2,\n`],
    ['padded with semicolons', '# practice: true;\nelapsed_s;flame_signal_V\n0;4,6\n'],
    ['written by hand', `#Practice : TRUE \n${heading}\n0,2,\n`],
  ])('is practice when a comment says so, %s', (_where, text) => {
    const { capture, notices } = good(text);
    expect(capture.practice).toBe(true);
    expect(capture.readings[0]).toMatchObject({ elapsedS: 0 });
    expect(notices).toEqual([]);
  });

  it.each([
    ['no comment', `${heading}\n0,2,\n`],
    ['another comment', `# practice: true enough\n# good practice: true to the manual\n${heading}\n0,2,\n`],
    ['one that denies it', `# practice: false\n${heading}\n0,2,\n`],
  ])('is not practice with %s', (_what, text) => expect(good(text).capture).not.toHaveProperty('practice'));

  it('of a practice capture is practice when it is read again, without its setup and trials too', () => {
    const { capture } = simulateVisit('clean', 1);
    const text = writeWideCsv(capture);
    expect(text.split('\n').slice(0, 2)).toEqual(['# practice: true', 'elapsed_s,pilot_pressure_inH2O,flame_signal_V']);
    const again = good(text).capture;
    expect(again.practice).toBe(true);
    expect(again.readings).toHaveLength(capture.readings.length);
    expect(writeWideCsv(again)).toBe(text);
  });

  it('of a capture whose meters alone say that it is practice is marked', () => {
    const { practice: _, ...old } = simulateVisit('clean', 1).capture;
    expect(writeWideCsv(old)).toMatch(/^# practice: true\n/);
    expect(writeWideCsv({ ...old, meters: [], lines: [] })).toMatch(/^elapsed_s,/);
  });

  it('handles any text without an exception', () => {
    const piece = fc.constantFrom(
      'elapsed_s',
      ',',
      ';',
      '\n',
      '\r',
      '"',
      '#',
      '1',
      '.',
      'OL',
      'flame_signal_V',
      '\0',
      '\uFEFF',
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.array(piece).map((pieces) => pieces.join('')),
    );
    fc.assert(
      fc.property(text, text, text, (csv, setup, trials) => {
        read(csv, { setup, trials });
        read(`${heading}\n${csv}`, { trials });
      }),
      { numRuns: 2000 },
    );
  });
});
