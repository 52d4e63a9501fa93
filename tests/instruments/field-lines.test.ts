import { describe, expect, it } from 'vitest';
import { createLineDecoder } from '../../shared/instruments/decode.ts';
import { builtInProfiles } from '../../shared/instruments/built-in.ts';
import { checkProfile } from '../../shared/instruments/check-profile.ts';
import { Profile } from '../../shared/model/profile.ts';

const two = (line: object) =>
  Profile.parse({
    name: 'two channels',
    line,
    channels: [
      { role: 'pilot_pressure', unit: 'inH2O', field: 1 },
      { role: 'flame_signal', unit: 'V', field: 3 },
    ],
  });
const short = (readings: ReturnType<ReturnType<typeof createLineDecoder>>) =>
  readings.map(({ role, value, flag }) => [role === 'pilot_pressure' ? 'p' : 's', flag ?? value]);

describe('a delimited line', () => {
  const decode = createLineDecoder(two({ format: 'delimited', delimiter: ';' }));

  it('takes each channel from its own field, counted from 0', () => {
    expect(short(decode('7; 2,31 ;x; 4600 mV'))).toEqual([['p', 2.31], ['s', 4.6]]); // prettier-ignore
  });
  it('flags the field that cannot be read and keeps the other', () => {
    expect(short(decode('7;OL;x;4.6'))).toEqual([['p', 'overload'], ['s', 4.6]]); // prettier-ignore
    expect(short(decode('7;what;x;4.6'))).toEqual([['p', 'unreadable'], ['s', 4.6]]); // prettier-ignore
  });
  it('reads an empty field as no reading and a missing one as cut off', () => {
    expect(short(decode('7;;x;4.6'))).toEqual([['s', 4.6]]);
    expect(short(decode('7;2.31'))).toEqual([['p', 2.31], ['s', 'unreadable']]); // prettier-ignore
  });
  it('flags all channels when every field is empty', () => {
    expect(short(decode('7;;x;'))).toEqual([['p', 'unreadable'], ['s', 'unreadable']]); // prettier-ignore
  });
  it('takes a run of blanks as one delimiter', () => {
    const blanks = createLineDecoder(two({ format: 'delimited', delimiter: ' ' }));
    expect(short(blanks('  7   2.31 x    4.6'))).toEqual([['p', 2.31], ['s', 4.6]]); // prettier-ignore
  });
  it('keeps tabs as delimiters', () => {
    const tabs = createLineDecoder(two({ format: 'delimited', delimiter: '\t' }));
    expect(short(tabs('\t2.31\t\t4.6'))).toEqual([['p', 2.31], ['s', 4.6]]); // prettier-ignore
  });
});

describe('a pattern line', () => {
  it('checks and converts the unit that its group captures, as documented', () => {
    const decode = createLineDecoder(
      Profile.parse({
        name: 'one channel',
        line: { format: 'pattern', pattern: 'P=(?<pilot_pressure>[-+0-9.]+ *\\w*)' },
        channels: [{ role: 'pilot_pressure', unit: 'mbar' }],
      }),
    );
    // 1 mbar is 100 Pa (SI: 1 bar = 100 kPa).
    expect(decode('P=150 Pa')).toMatchObject([{ value: 1.5, convertedFrom: 'Pa' }]);
    expect(decode('P=1.5')).toMatchObject([{ value: 1.5 }]);
    expect(decode('P=1 bananas')).toMatchObject([{ flag: 'unit-unknown' }]);
  });
  it('recognizes the overload of its only channel, though a pattern for numbers does not match it', () => {
    const decode = createLineDecoder(
      Profile.parse({
        name: 'one channel',
        line: { format: 'pattern', pattern: 'P=(?<pilot_pressure>[-+.\\d]+)' },
        channels: [{ role: 'pilot_pressure', unit: 'mbar' }],
      }),
    );
    expect(decode('P=OL')).toMatchObject([{ role: 'pilot_pressure', flag: 'overload' }]);
    expect(decode('P=ready')).toMatchObject([{ role: 'pilot_pressure', flag: 'unreadable' }]);
    // With two channels, it may be either's.
    const ofTwo = createLineDecoder(
      two({ format: 'pattern', pattern: 'P=(?<pilot_pressure>[\\d.]+) S=(?<flame_signal>[\\d.]+)' }),
    );
    expect(short(ofTwo('P=OL S=2'))).toEqual([['p', 'unreadable'], ['s', 'unreadable']]); // prettier-ignore
  });
  it('takes each channel from the group of its name', () => {
    const decode = createLineDecoder(
      two({ format: 'pattern', pattern: '^P=(?<pilot_pressure>[-+.\\d]+) S=(?<flame_signal>\\S+)$' }),
    );
    expect(short(decode('P=2.31 S=4.6'))).toEqual([['p', 2.31], ['s', 4.6]]); // prettier-ignore
    expect(short(decode('P=2.31 S=OL'))).toEqual([['p', 2.31], ['s', 'overload']]); // prettier-ignore
    expect(short(decode('Q=2.31 S=4.6'))).toEqual([['p', 'unreadable'], ['s', 'unreadable']]); // prettier-ignore
  });
  it('gives only the channels in the line', () => {
    const decode = createLineDecoder(
      two({ format: 'pattern', pattern: 'P(?<pilot_pressure>[\\d.]+)|S(?<flame_signal>[\\d.]+)' }),
    );
    expect(short(decode('P2.31'))).toEqual([['p', 2.31]]);
    expect(short(decode('S4.6'))).toEqual([['s', 4.6]]);
  });
});

describe('a profile from outside', () => {
  const base = { name: 'mine', channels: [{ role: 'pilot_pressure', unit: 'inH2O' }] };
  const problems = (json: unknown) => {
    const checked = checkProfile(json, 'mine.json');
    return checked.ok ? undefined : checked.fault.message;
  };

  it('is accepted as documented', () => {
    const shown = {
      name: 'Manometer, one number a line',
      serial: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
      mode: 'stream',
      poll: { send: 'READ?\n', everyMs: 200 },
      line: { format: 'number' },
      channels: [{ role: 'pilot_pressure', unit: 'inH2O', scale: 1, offset: 0 }],
      overload: ['OL', '-OL', '----'],
      accuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'inH2O' },
    };
    expect(problems(shown)).toBeUndefined();
  });
  it.each([
    [{ ...base, line: { format: 'pattern', pattern: '(?<pilot_pressure>\\d+' } }, 'unterminated group'],
    [{ ...base, line: { format: 'pattern', pattern: '(?<pilot_pressure>\\d+)(?=x)' } }, 'look-ahead'],
    [{ ...base, line: { format: 'pattern', pattern: '(?<pilot_pressure>\\d+)\\1' } }, 'back references'],
    [{ ...base, line: { format: 'pattern', pattern: '\\d+' } }, 'no group (?<pilot_pressure>...)'],
    [
      { ...base, line: { format: 'pattern', pattern: '(?<pilot_pressure>\\d)(?<volts>\\d)' } },
      'volts is none of its channels',
    ],
    [{ ...base, line: { format: 'pattern', pattern: '(?<pilot_pressure>(\\d{100}){100})' } }, 'too large'],
    [{ ...base, line: { format: 'delimited', delimiter: ',' } }, 'has no field number'],
    [{ ...base, mode: 'poll', line: { format: 'number' } }, 'poll.send is missing'],
    [
      { ...base, line: { format: 'number' }, channels: [{ role: 'pilot_pressure', unit: 'V' }] },
      'pilot_pressure cannot be in V',
    ],
    [{ ...base, line: { format: 'telepathy' } }, 'line.format'],
    [42, 'object'],
  ])('is refused with the reason: %j', (json, why) => {
    const message = problems(json);
    expect(message).toContain('mine.json');
    expect(message).toContain(why);
    expect(message).not.toMatch(/undefined|at .*\.ts/);
  });
});

describe('the built-in profiles', () => {
  it('are all valid and have unique names', () => {
    for (const profile of builtInProfiles) expect(checkProfile(profile, profile.name).ok).toBe(true);
    expect(new Set(builtInProfiles.map(({ name }) => name)).size).toBe(builtInProfiles.length);
  });
  it.each(builtInProfiles.map((profile) => [profile.name, profile] as const))(
    '%s reads its own kind of line',
    (_name, profile) => {
      const decode = createLineDecoder(profile);
      const values = profile.channels.map(({ unit }, i) => (unit === 'on' ? 1 : 2.5 + i));
      const line = values.join(profile.line.format === 'delimited' ? profile.line.delimiter : ' ');
      expect(decode(line).map(({ value }) => value)).toEqual(values);
    },
  );
});
