import { describe, expect, it } from 'vitest';
import { createLineDecoder } from '../../shared/instruments/decode.ts';
import { Profile } from '../../shared/model/profile.ts';

const volts = { role: 'flame_signal', unit: 'V' };
const decoderFor = (...channels: object[]) =>
  createLineDecoder(Profile.parse({ name: 'test', line: { format: 'scpi' }, channels }));
const decode = decoderFor(volts);
const read = (line: string) => decode(line).map(({ flag, value }) => flag ?? value);

// The clauses are those of IEEE 488.2-1992. That 8.7.2, 8.7.3 and 8.7.4 are NR1, NR2 and NR3, with the examples beside
// them, is as makers' programming guides cite them; the other clause numbers are from memory.
describe('numeric response data', () => {
  it.each([
    ['146', 146],
    ['+146', 146],
    ['-12345', -12_345],
    ['0', 0],
    ['007', 7],
  ])('takes %s as NR1 (8.7.2)', (line, value) => {
    expect(decode(line)).toEqual([{ ...volts, value }]);
  });

  it.each([
    ['12.3', 12.3],
    ['+1.2345', 1.2345],
    ['-0.123', -0.123],
  ])('takes %s as NR2 (8.7.3)', (line, value) => {
    expect(decode(line)).toEqual([{ ...volts, value }]);
  });

  it.each([
    ['1.23E+6', 1.23e6],
    ['-1234.567E+9', -1234.567e9],
    ['+4.60000000E-03', 4.6e-3],
    ['4.6E0', 4.6],
  ])('takes %s as NR3 (8.7.4)', (line, value) => {
    expect(decode(line)).toEqual([{ ...volts, value }]);
  });

  it.each(['+9.9E37', '9.9E37', '-9.9E37', '+9.90000000E+37', '9.89999998E+37'])(
    'takes %s, infinity, for an overload (SCPI 1999, 7.2.1.4; from memory)',
    (line) => {
      expect(decode(line)).toEqual([{ ...volts, value: Number.NaN, flag: 'overload' }]);
    },
  );

  it.each(['9.91E37', '+9.91000000E+37', '9.91000025E+37'])(
    'takes %s, not a number, as unreadable (SCPI 1999, 7.2.1.5; from memory)',
    (line) => {
      expect(decode(line)).toEqual([{ ...volts, value: Number.NaN, flag: 'unreadable' }]);
    },
  );

  it('reads the largest number below infinity', () => {
    expect(read('9.8E+37')).toEqual([9.8e37]);
  });

  it.each([
    '.5', // no digit before the point
    '5.', // none behind it
    '1E5', // an exponent without a point is for commands (NRf, 7.7.2), not for responses
    '1.5e-3', // a small e
    '1,5.', // a decimal comma is a separator
    '1.5 V',
    '1.5V',
    '1 2',
    '+ 1.5',
    '--1',
    '1.5E',
    '1.5E+',
    '\u22121.5',
    '0x1F',
    '#H1F', // 8.7.5 hexadecimal
    '"1.5"', // 8.7.8 string
    ':VOLT 1.5', // a header (8.5)
    'NAN',
    'INF',
    'Infinity',
    '1_000',
    '\u0661',
    '1.5E+999',
  ])('flags %j, which is none', (line) => {
    expect(read(line)).toEqual([line === '1,5.' ? 1 : 'unreadable']);
  });

  it('ignores blanks, a CR and NULs around the data as line noise', () => {
    expect(read(' +1.50 \r')).toEqual([1.5]);
    expect(read('\u0000+1.50')).toEqual([1.5]);
  });

  it('gives nothing for an empty line and flags one that is too long', () => {
    expect(decode('')).toEqual([]);
    expect(read('1'.repeat(513))).toEqual(['too-long']);
  });
});

describe('a response of several fields', () => {
  const pressure = { role: 'pilot_pressure', unit: 'inH2O' };
  const both = decoderFor(pressure, volts);
  const values = (line: string) => both(line).map(({ flag, value }) => flag ?? value);

  it.each(['2.31,4.6', '2.31;4.6', ' 2.31 , 4.6 ', '2.31,+4.6E+0,17'])(
    'gives %j to the channels in their order (separators: 8.4.1 and 8.4.2)',
    (line) => {
      expect(values(line)).toEqual([2.31, 4.6]);
    },
  );

  it('gives a channel the field that it names', () => {
    const named = decoderFor({ ...pressure, field: 2 }, { ...volts, field: 0 });
    expect(named('4.6,1,2.31').map(({ role, value }) => [role, value])).toEqual([
      ['pilot_pressure', 2.31],
      ['flame_signal', 4.6],
    ]);
  });

  it('flags the field that is no number, is empty or is missing, and keeps the other', () => {
    expect(values('2.31,9.9E37')).toEqual([2.31, 'overload']);
    expect(values('2.31,OL')).toEqual([2.31, 'overload']);
    expect(values('2.31,')).toEqual([2.31, 'unreadable']);
    expect(values('2.31')).toEqual([2.31, 'unreadable']);
    expect(values(',4.6')).toEqual(['unreadable', 4.6]);
    expect(values('inH2O,4.6')).toEqual(['unreadable', 4.6]);
  });

  it('uses no position beside a string or a block, which may contain separators (8.7.8 to 8.7.10)', () => {
    expect(values('"A,2.31,B",4.6')).toEqual(['unreadable', 'unreadable']);
    expect(values("'A,2.31',4.6")).toEqual(['unreadable', 'unreadable']);
    expect(values('#14,1.2,4.6')).toEqual(['unreadable', 'unreadable']);
  });

  it('applies scale and offset, and knows a switch', () => {
    expect(decoderFor({ ...volts, scale: 10, offset: 1 })('0.5')).toEqual([{ ...volts, value: 6 }]);
    const spark = decoderFor({ role: 'ignition', unit: 'on' });
    expect(['0', '1', '2'].map((line) => spark(line)[0]?.flag ?? spark(line)[0]?.value)).toEqual([0, 1, 'unreadable']);
  });
});
