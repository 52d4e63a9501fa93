import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createLineDecoder } from '../../shared/instruments/decode.ts';
import { Profile } from '../../shared/model/profile.ts';

const decoderFor = (role: string, unit: string, more: object = {}) =>
  createLineDecoder(Profile.parse({ name: 'test', line: { format: 'number' }, channels: [{ role, unit, ...more }] }));
const pressure = decoderFor('pilot_pressure', 'inH2O');
const signal = decoderFor('flame_signal', 'V');

describe('a number line', () => {
  it.each([
    ['2.31', 2.31],
    ['+2.31', 2.31],
    ['  -0.02  ', -0.02],
    ['P: 2.31', 2.31],
    ['P=-0.12', -0.12],
    ['- 0.12', -0.12],
    ['\u22120.12', -0.12],
    ['.5', 0.5],
    ['5.', 5],
    ['1.2e1', 12],
    ['231E-2', 2.31],
    ['CH1 2.31', 2.31],
    ['2.31 #17', 2.31],
    ['2.31, 4.60', 2.31],
    ['2.31,4.60', 2.31],
    ['2.31\t0', 2.31],
    ['\u0000\u00002.31\r', 2.31],
  ])('reads the first number of %j', (line, value) => {
    expect(pressure(line)).toEqual([{ role: 'pilot_pressure', unit: 'inH2O', value }]);
  });

  it.each([
    ['2,31', 2.31],
    ['-0,5 inH2O', -0.5],
    [',5', 0.5],
    ['2,31; 4,60', 2.31],
  ])('reads the comma of %j as a decimal comma', (line, value) => {
    expect(pressure(line)).toEqual([{ role: 'pilot_pressure', unit: 'inH2O', value }]);
  });

  it.each([
    '1,234.5',
    '1.234,5',
    '1,2,3',
    '2.31.4',
    '12:30:05 2.31',
    '25.11.2026 2.31',
    '25/11 2.31',
    '1-2',
    '2.3\u0664',
    '1 234',
    '1\u00a0234.5 Pa',
    "1'234",
    '1_000',
    '5-',
    '--5',
    '2\u0000.5',
    '2.\u00005',
  ])('flags %j, which may mean more than one number, rather than guess', (line) => {
    expect(pressure(line)).toEqual([{ role: 'pilot_pressure', unit: 'inH2O', value: Number.NaN, flag: 'unreadable' }]);
  });

  it.each(['hello', '?', 'H2O', 'nan', 'inf', '1e999', '\u0000\u0001', '\ufffd\ufffd'])(
    'flags %j, which holds no number',
    (line) => {
      expect(pressure(line)).toMatchObject([{ value: Number.NaN, flag: 'unreadable' }]);
    },
  );

  it.each(['OL', '-OL', '+OL', ' ol ', 'DC OL V', '----', 'OL 2.31'])('reads %j as overload', (line) => {
    expect(pressure(line)).toMatchObject([{ value: Number.NaN, flag: 'overload' }]);
  });

  it.each(['', ' ', '\t', '\r'])('gives nothing for the empty line %j', (line) => {
    expect(pressure(line)).toEqual([]);
  });

  it('reads a line of 512 characters and flags one of 513, whatever its content', () => {
    expect(pressure('2.31'.padEnd(512, ' '))).toMatchObject([{ value: 2.31 }]);
    expect(pressure('2.31'.padEnd(513, ' '))).toMatchObject([{ value: Number.NaN, flag: 'too-long' }]);
    expect(pressure('\u0012'.repeat(513))).toMatchObject([{ value: Number.NaN, flag: 'too-long' }]);
  });

  it('applies scale and offset after the conversion of the unit', () => {
    const scaled = decoderFor('flame_signal', 'V', { scale: 2, offset: -1 });
    expect(scaled('1500 mV')).toEqual([{ role: 'flame_signal', unit: 'V', value: 2, convertedFrom: 'mV' }]);
  });

  it('reads a switch in words and figures', () => {
    const spark = decoderFor('ignition', 'on');
    const values = ['ON', 'off', 'yes', 'no', '1', '0'].map((line) => spark(line)[0]?.value);
    expect(values).toEqual([1, 0, 1, 0, 1, 0]);
    expect(spark('0.5')).toMatchObject([{ flag: 'unreadable' }]);
  });

  it('never throws and never ignores a line, whatever the line', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 600 }), (line) => {
        const readings = pressure(line);
        expect(readings.length).toBe(line.trim() === '' ? 0 : 1);
        for (const { value, flag } of readings) expect(Number.isNaN(value)).toBe(flag !== undefined);
      }),
    );
  });

  it('reads every printed number', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.integer({ min: 0, max: 6 }), (x, decimals) => {
        const text = x.toFixed(decimals);
        // "-0" is nought: a sign of nothing means nothing.
        expect(pressure(`P ${text} inH2O`)[0]?.value).toBe(Number(text) + 0);
      }),
    );
  });
});

describe('a unit token after the number', () => {
  it.each([
    'inH2O',
    'INH2O',
    'in H2O',
    'inH20',
    'inWC',
    '"WC',
    '" w.c.',
    'in. w. c.',
    'in.wg',
    'inches H2O',
    'in\u00b7H2O'.replace('\u00b7', '_'),
  ])('agrees when it is spelt %j', (token) => {
    expect(pressure(`2.31 ${token}`)).toEqual([{ role: 'pilot_pressure', unit: 'inH2O', value: 2.31 }]);
    expect(pressure(`2.31${token}`)).toMatchObject([{ value: 2.31 }]);
  });

  // NIST SP 811 (2008), appendix B.8: 1 inH2O (conventional) = 2.490889 E+02 Pa, 1 psi = 6.894757 E+03 Pa. Seven digits.
  it.each([
    ['249.0889 Pa', 1],
    ['0.2490889 kPa', 1],
    ['2.490889 mbar', 1],
    ['2.490889 hPa', 1],
    ['2.490889 MBAR', 1],
    ['24.90889 daPa', 1],
    ['0.002490889 bar', 1],
    ['1 psi', 6894.757 / 249.0889],
    ['1 PSIG', 6894.757 / 249.0889],
  ])('converts %s to inches of water', (line, value) => {
    const [reading] = pressure(line);
    expect(reading?.value).toBeCloseTo(value, 5);
    expect(reading?.unit).toBe('inH2O');
  });

  it.each([
    ['4600 mV', 4.6],
    ['4600mV', 4.6],
    ['4600 MV', 4.6],
    ['4.6 V', 4.6],
    ['4.6 VDC', 4.6],
    ['4.6 DC V', 4.6],
    ['+4.6,V', 4.6],
  ])('converts %s to volts', (line, value) => {
    expect(signal(line)[0]?.value).toBeCloseTo(value, 12);
  });

  it('is read with both micro signs', () => {
    const current = decoderFor('flame_signal', 'uA');
    for (const line of ['3.2 uA', '3.2 \u00b5A', '3.2 \u03bcA', '0.0032 mA', '3200 nA'])
      expect(current(line)[0]?.value).toBeCloseTo(3.2, 12);
  });

  it('leaves a plain inH2O in the column of the channel, and converts between named columns', () => {
    const cold = decoderFor('pilot_pressure', 'inH2O_4C');
    expect(cold('2.31 inH2O')).toMatchObject([{ value: 2.31 }]);
    // NIST SP 811, B.8: inch of water (4 degC) 2.49082 E+02 Pa, (60 degF) 2.4884 E+02 Pa
    expect(cold('1 inH2O_60F')[0]?.value).toBeCloseTo(248.84 / 249.082, 6);
  });

  it('gives the unit that was converted in its usual spelling, and none where the unit agrees or is not printed', () => {
    const from = (line: string) => pressure(line)[0]?.convertedFrom;
    expect(['2.31 MBAR', '1 bar', '1 daPa', '1 cmH2O', '2.31 inH2O_4C'].map(from)).toEqual([
      'mbar',
      'bar',
      'daPa',
      'cmH2O',
      'inH2O_4C',
    ]);
    expect(['2.31', '2.31 "WC', '2.31 inh2o', 'OL mbar', '2.31 mV'].map(from)).toEqual(Array(5).fill(undefined));
    expect(decoderFor('pilot_pressure', 'mbar')('1 bar')[0]).toMatchObject({ value: 1000, convertedFrom: 'bar' });
  });

  it.each([
    '2.31 V',
    '2.31 mA',
    '2.31 %',
    '2.31 inHg',
    '2.31 in',
    '2.31"',
    '2.31 MPa',
    '2.31 mPa',
    '2.31 kgf',
    '2.31 \u00b0C',
    '2.31 ok',
    '2.31, mV',
  ])('flags %j for a pressure', (line) => {
    expect(pressure(line)).toMatchObject([{ value: Number.NaN, flag: 'unit-unknown' }]);
  });

  it.each(['4.6 VAC', '4.6 mA', '4.6 Ohm', '4.6 inH2O'])('flags %j for a voltage', (line) => {
    expect(signal(line)).toMatchObject([{ value: Number.NaN, flag: 'unit-unknown' }]);
  });
});

it.each(['+9.9E37', '-9.90000000E+37'])('reads %s as overload, as in SCPI 1999', (line) => {
  expect(pressure(line)).toMatchObject([{ flag: 'overload' }]);
});
