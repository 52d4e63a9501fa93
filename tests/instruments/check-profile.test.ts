import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { builtInProfiles } from '../../shared/instruments/built-in.ts';
import { checkProfile } from '../../shared/instruments/check-profile.ts';

const text = { name: 'mine', line: { format: 'number' }, channels: [{ role: 'pilot_pressure', unit: 'Pa' }] };
const modbus = {
  ...text,
  mode: 'poll',
  poll: { everyMs: 100 },
  line: { format: 'modbus-rtu', unitId: 1, function: 3, address: 0, type: 'int16' },
};
const volts = { role: 'flame_signal', unit: 'V' };
const logger = (delimiter: string, one: number | undefined, other: number | undefined) => ({
  ...text,
  line: { format: 'delimited', delimiter },
  channels: [
    { ...text.channels[0], field: one },
    { ...volts, field: other },
  ],
});
const line = (more: object) => ({ ...modbus, line: { ...modbus.line, ...more } });

const problems = (json: unknown): string[] => {
  const checked = checkProfile(json, 'mine.json');
  if (checked.ok) return [];
  const listed = /^The profile "mine\.json" cannot be used: (.*)\.$/u.exec(checked.fault.message)?.[1];
  if (listed === undefined) throw new Error(checked.fault.message);
  return listed.split('; ');
};

it('a request of SCPI may begin with a colon and letters that are hexadecimal digits too', () => {
  for (const send of [':FETCh?\n', ':DEAD:BEEF?\n', 'MEAS:VOLT:DC?\r\n'])
    expect(problems({ ...text, mode: 'poll', poll: { send, everyMs: 100 } })).toEqual([]);
});

describe('a Modbus profile', () => {
  it.each([
    ['as documented', modbus],
    ['with what one channel does not share', { ...modbus, channels: [...text.channels, { ...volts, address: 1, function: 4, type: 'float32', wordOrder: 'little' }] }], // prettier-ignore
    ['whose channels read the same address of different tables', { ...modbus, channels: [...text.channels, { ...volts, function: 4 }] }], // prettier-ignore
    ['at the last register', line({ address: 65_535 })],
  ])('%s is accepted', (_what, json) => {
    expect(problems(json)).toEqual([]);
  });

  it.each([
    [{ ...modbus, mode: 'stream' }, 'mode: a modbus-rtu meter answers only when polled: mode must be poll'],
    [
      { ...modbus, poll: undefined },
      'poll.everyMs: mode is poll, but poll.everyMs (milliseconds between requests) is missing',
    ],
    [line({ unitId: 0 }), 'line.unitId must be at least 1'],
    [line({ unitId: 248 }), 'line.unitId must be at most 247'],
    [line({ unitId: 1.5 }), 'line.unitId must be a whole number'],
    [line({ function: 6 }), 'line.function must be one of 3, 4'],
    [line({ address: 65_536 }), 'line.address must be at most 65535'],
    [line({ address: 65_535, type: 'int32' }), 'channels.0.address: the channel pilot_pressure reads int32 from address 65535, past the last register'], // prettier-ignore
    [line({ type: 'int64' }), 'line.type must be one of int16, uint16, int32, float32'],
    [line({ wordOrder: 'middle' }), 'line.wordOrder must be one of big, little'],
    [{ ...modbus, serial: { dataBits: 7 } }, 'serial.dataBits: modbus-rtu needs 8 data bits'],
    [
      { ...modbus, channels: [...text.channels, volts] },
      'channels.1.address: the channels pilot_pressure and flame_signal read the same register, 0',
    ],
    [{ ...modbus, channels: [{ ...volts, function: 5 }] }, 'channels.0.function must be one of 3, 4'],
    [{ ...modbus, channels: [{ ...volts, address: -1 }] }, 'channels.0.address must be at least 0'],
  ])('is refused with the place and the reason: %j', (json, text) => {
    const found = problems(json);
    expect(found).toHaveLength(1);
    expect(found[0]).toContain(text);
  });
});

describe('a profile of text lines', () => {
  it.each([
    ['with blanks, tabs or words between its fields', [' ', '\t', ', ', ';', '|', '::', '"', 'x', '>-<'].map((delimiter) => logger(delimiter, 0, 1000))], // prettier-ignore
    ['with words and numbers for overload', [{ ...text, overload: ['OL', '----', 'ERR2', '-OL-', '1E', '9999', '9.9E37'] }]], // prettier-ignore
    ['with an accuracy in another unit of the same kind', [
      { ...text, accuracy: { absolute: 0.1, unit: 'inH2O' } },
      { ...text, channels: [volts], accuracy: { absolute: 5, unit: 'mV' } },
      { ...logger(',', 0, 1), accuracy: { absolute: 5, unit: 'mV' } },
    ]], // prettier-ignore
    ['with a negative scale, as for a meter with its hoses swapped', [{ ...text, channels: [{ ...text.channels[0], scale: -1 }] }]], // prettier-ignore
    ['that is built in', builtInProfiles],
  ])('%s is accepted', (_what, all) => {
    for (const json of all) expect(problems(json), JSON.stringify(json)).toEqual([]);
  });
});

describe('a wrong profile', () => {
  it.each([
    [undefined, ['it must be an object']],
    [[], ['it must be an object']],
    [{}, ['name must be a string', 'line must be an object', 'channels must be a list']],
    [{ ...text, name: '' }, ['name must have at least 1 character']],
    [{ ...text, line: { format: 'telepathy' } }, ['line.format must be one of number, delimited, pattern, scpi, modbus-rtu']], // prettier-ignore
    [{ ...text, channels: [] }, ['channels must hold at least 1']],
    [{ ...text, channels: [{ role: 'volts', unit: 'V' }] }, ['channels.0.role must be one of pilot_pressure, fan_pressure, supply_pressure, furnace_pressure, flame_signal, damper_position, ignition, pilot_valve']], // prettier-ignore
    [{ ...text, channels: [{ role: 'flame_signal', unit: 'Pa' }] }, ['channels.0: flame_signal cannot be in Pa']],
    [{ ...text, channels: [text.channels[0], text.channels[0]] }, ['channels.1.role: two channels have the role pilot_pressure', 'channels: the format "number" reads one channel', 'use "delimited" or "pattern" for more']], // prettier-ignore
    [{ ...text, serial: { baudRate: 1, dataBits: 9 } }, ['serial.baudRate must be at least 50', 'serial.dataBits must be one of 7, 8']], // prettier-ignore
    [{ ...text, mode: 'poll' }, ['poll.send: mode is poll, but poll.send is missing']],
    [{ ...text, mode: 'poll', poll: { everyMs: 100 } }, ['poll.send: mode is poll, but poll.send is missing']],
    [{ ...text, line: { format: 'scpi' }, mode: 'poll', poll: { send: 'READ?', everyMs: 1 } }, ['poll.everyMs must be at least 20']], // prettier-ignore
    [
      { ...text, mode: 'poll', poll: { send: 'READ?\u0000', everyMs: 100 } },
      ['poll.send: may hold printable ASCII, tab, CR and LF only'],
    ],
    [{ ...text, mode: 'poll', poll: { send: '\u0001\u0006\u0000\u0001', everyMs: 100 } }, ['poll.send: may hold printable ASCII, tab, CR and LF only']], // prettier-ignore
    [
      { ...text, mode: 'poll', poll: { send: 'größe?\n', everyMs: 100 } },
      ['poll.send: may hold printable ASCII, tab, CR and LF only'],
    ],
    // Writes 3 into register 1 of unit 1 (Modbus over Serial Line V1.02, 2.5.2.1: colon, hexadecimal digits, LRC, CR LF).
    [{ ...text, mode: 'poll', poll: { send: ':010600010003F5\r\n', everyMs: 100 } }, ['poll.send: must not hold a colon and hexadecimal digits: a Modbus ASCII frame']], // prettier-ignore
    [{ ...text, accuracy: { unit: 'x' } }, ['accuracy.unit must be one of Pa, hPa, kPa, mbar, inH2O, inH2O_4C, inH2O_60F, inH2O_20C, mmH2O, psi, V, mV, uA, mA, percent']], // prettier-ignore
    [{ ...text, name: '  ' }, ['name: must not be blank']],
    [{ ...text, name: 'a\nb' }, ['name: must be one line of text']],
    [{ ...text, name: 'a\u2028b' }, ['name: must be one line of text']],
    [{ ...text, channels: [{ ...text.channels[0], scale: 0 }] }, ['channels.0.scale: must not be 0: every reading would be the same']], // prettier-ignore
    [{ ...text, channels: [{ ...text.channels[0], scale: -0 }] }, ['channels.0.scale: must not be 0: every reading would be the same']], // prettier-ignore
    [{ ...text, accuracy: { unit: 'V' } }, ['accuracy.unit: no channel has a unit that can be converted to V']],
    [
      { ...text, channels: [volts], accuracy: { unit: 'uA' } },
      ['accuracy.unit: no channel has a unit that can be converted to uA'],
    ],
    [
      { ...text, channels: [volts], accuracy: { unit: 'Pa' } },
      ['accuracy.unit: no channel has a unit that can be converted to Pa'],
    ],
    [logger(',', 0, 1001), ['channels.1.field must be at most 1000']],
    [logger(',', 2, 2), ['channels.1.field: the channels pilot_pressure and flame_signal use the same field, 2']], // prettier-ignore
    [{ ...logger(',', 1, undefined), line: { format: 'scpi' } }, ['channels.1.field: the channels pilot_pressure and flame_signal use the same field, 1']], // prettier-ignore
    [{ ...text, line: { format: 'pattern', pattern: '(' } }, ['line.pattern: the pattern cannot be used: unterminated group after "("']], // prettier-ignore
  ])('reports every problem with its place: %j', (json, expected) => {
    expect(problems(json)).toEqual(expected);
  });

  it.each(['5', '+', '-', '.', 'e', 'E', ' - ', '1.'])(
    'with %j between its fields would cut numbers in two: it is refused',
    (delimiter) => {
      // prettier-ignore
      expect(problems(logger(delimiter, 0, 1))).toEqual(['line.delimiter: digits, signs, "." and "e" occur in numbers and cannot separate them']);
    },
  );

  it('is reported in words whatever is in it, never with a stack or an exception', () => {
    const value = fc.oneof(fc.jsonValue(), fc.constantFrom('poll', 'scpi', 'modbus-rtu', 'Pa', 3, 65_535));
    const part = (whole: object) =>
      fc.record(
        Object.fromEntries(Object.entries(whole).map(([key, own]) => [key, fc.oneof(value, fc.constant(own))])),
      );
    const wrong = fc.constantFrom(text, modbus).chain((whole) =>
      fc.record({
        ...Object.fromEntries(Object.keys(whole).map((key) => [key, fc.oneof(value, fc.constant((whole as Record<string, unknown>)[key]))])), // prettier-ignore
        line: fc.oneof(part(whole.line), value),
        channels: fc.array(fc.oneof(part({ ...volts, address: 1, type: 'int16', field: 0 }), value), { maxLength: 9 }),
        serial: fc.oneof(part({ baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 }), value),
      }),
    );
    fc.assert(
      fc.property(wrong, (json) => {
        const checked = checkProfile(json, 'mine.json');
        if (checked.ok) return;
        expect(checked.fault.message).toMatch(/^The profile "mine\.json" cannot be used: \S.*\.$/su);
        expect(checked.fault.message).not.toMatch(/Invalid|undefined|\n {4}at |\[object/u);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('the built-in SCPI multimeter', () => {
  it('sends READ? and nothing that would change the settings of the meter', () => {
    const polled = builtInProfiles.filter(({ mode }) => mode === 'poll');
    expect(polled.map(({ poll, line: { format } }) => [poll?.send, format])).toEqual([['READ?\n', 'scpi']]);
  });
});
