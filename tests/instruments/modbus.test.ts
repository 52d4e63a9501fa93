import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createLineDecoder } from '../../shared/instruments/decode.ts';
import { registerNumber, readResponse, readingOfResponse } from '../../shared/instruments/modbus/response.ts';
import { crc16, hasValidCrc, withCrc } from '../../shared/instruments/modbus/crc16.ts';
import { splitFrames } from '../../shared/instruments/modbus/frames.ts';
import { fromHex, toHex } from '../../shared/instruments/modbus/hex.ts';
import { requestFrame, requestsOf } from '../../shared/instruments/modbus/request.ts';
import type { RegisterRequest } from '../../shared/instruments/modbus/request.ts';
import { Profile } from '../../shared/model/profile.ts';

const bytes = (hex: string): Uint8Array => fromHex(hex)!;
const framed = (hex: string): Uint8Array => withCrc([...bytes(hex)]);
const pressure = { role: 'pilot_pressure', unit: 'Pa' };
const profileOf = (line: object, ...channels: object[]) =>
  Profile.parse({
    name: 'test',
    mode: 'poll',
    poll: { everyMs: 100 },
    line: { format: 'modbus-rtu', unitId: 1, function: 3, address: 107, type: 'uint16', ...line },
    channels: channels.length > 0 ? channels : [pressure],
  });
const requestOf = (line: object): RegisterRequest => requestsOf(profileOf(line))[0]!;

describe('the CRC', () => {
  it('of "123456789" is 4B37 hex (the check value of CRC-16/MODBUS in the catalogue of parametrized CRC algorithms; from memory)', () => {
    expect(crc16(new TextEncoder().encode('123456789'))).toBe(0x4b37);
  });

  it('of the frame 02 07 goes out as 41 12 (MODBUS over Serial Line V1.02, appendix B; from memory)', () => {
    expect(toHex(framed('02 07'))).toBe('02 07 41 12');
  });

  it('finds every change of one or two bits in a frame', () => {
    const sound = framed('01 03 02 00 FA');
    const bits = sound.length * 8;
    for (let one = 0; one < bits; one += 1)
      for (let other = one; other < bits; other += 1) {
        const hurt = Uint8Array.from(sound);
        hurt[one >> 3]! ^= 1 << (one & 7);
        if (other !== one) hurt[other >> 3]! ^= 1 << (other & 7);
        expect(hasValidCrc(hurt)).toBe(false);
      }
  });
});

// The examples of MODBUS Application Protocol V1.1b3, from memory: their PDUs without unit and check sum.
describe('the worked examples of the specification', () => {
  it('6.3: requests holding registers 108 to 110 with 03 00 6B 00 03, here for the first alone', () => {
    const asked = requestFrame({ ...requestOf({}), count: 3 as 2 });
    expect(toHex(asked.subarray(1, -2))).toBe('03 00 6B 00 03');
    expect(hasValidCrc(asked)).toBe(true);
    expect(toHex(requestFrame(requestOf({})).subarray(0, -2))).toBe('01 03 00 6B 00 01');
  });

  it('6.3: the response 03 06 02 2B 00 00 00 64 holds 022B, 0000 and 0064: 555, 0 and 100', () => {
    const answer = readResponse(framed('01 03 06 02 2B 00 00 00 64'), { ...requestOf({}), count: 3 as 2 });
    if (answer.kind !== 'registers') throw new Error(answer.kind);
    const values = [0, 2, 4].map((at) => registerNumber(answer.data.subarray(at, at + 2), 'uint16', 'big'));
    expect(values).toEqual([555, 0, 100]);
  });

  it('6.4: requests input register 9 with 04 00 08 00 01; the response 04 02 00 0A holds 10', () => {
    const request = requestOf({ function: 4, address: 8, type: 'int16' });
    expect(toHex(requestFrame(request).subarray(1, -2))).toBe('04 00 08 00 01');
    expect(readingOfResponse(readResponse(framed('01 04 02 00 0A'), request), request, [])).toEqual({
      ...pressure,
      value: 10,
    });
  });
});

describe('registers as numbers', () => {
  // IEEE 754 single precision, worked by hand: sign, exponent less 127, and 23 bits behind the point.
  it.each([
    ['float32', '3F 80 00 00', 1],
    ['float32', 'C0 00 00 00', -2],
    ['float32', '3E 20 00 00', 0.15625],
    ['float32', '42 F6 E9 79', 123.45600128173828],
    ['float32', '00 00 00 01', 2 ** -149],
    ['float32', '7F 7F FF FF', (2 - 2 ** -23) * 2 ** 127],
    ['float32', '7F 80 00 00', Infinity],
    ['float32', '7F C0 00 00', Number.NaN],
    ['int16', '7F FF', 32_767],
    ['int16', '80 00', -32_768],
    ['int16', 'FF FF', -1],
    ['uint16', 'FF FF', 65_535],
    ['int32', 'FF FF FF FE', -2],
    ['int32', '00 01 00 02', 65_538],
  ] as const)('%s %s is %d', (type, hex, value) => {
    expect(registerNumber(bytes(hex), type, 'big')).toBe(value);
  });

  it('uses the second register as the high half when the word order is little', () => {
    expect(registerNumber(bytes('00 00 3F 80'), 'float32', 'little')).toBe(1);
    expect(registerNumber(bytes('00 02 00 01'), 'int32', 'little')).toBe(65_538);
  });

  it('flags what is no number, and what the profile says means overload', () => {
    const float = requestOf({ type: 'float32' });
    const of = (request: RegisterRequest, hex: string, overload: string[] = []) =>
      readingOfResponse(readResponse(framed(hex), request), request, overload);
    for (const hex of ['7F C0 00 00', '7F 80 00 00', 'FF 80 00 00'])
      expect(of(float, `01 03 04 ${hex}`).value).toBeNaN();
    expect(of(float, '01 03 04 7F C0 00 00')).toEqual({ ...pressure, value: Number.NaN, flag: 'unreadable' });
    expect(of(requestOf({}), '01 03 02 7F FF', ['32767']).flag).toBe('overload');
  });
});

describe('a response', () => {
  const request = requestOf({});
  it.each([
    ['01 83 02', { kind: 'exception', code: 2 }],
    ['01 84 02', { kind: 'foreign', unitId: 1 }], // an exception to function 4
    ['02 03 02 00 0A', { kind: 'foreign', unitId: 2 }],
    ['01 04 02 00 0A', { kind: 'foreign', unitId: 1 }],
    ['01 03 04 00 0A 00 00', { kind: 'foreign', unitId: 1 }], // two registers, one was requested
    ['01 03 00', { kind: 'foreign', unitId: 1 }],
    ['01 03', { kind: 'damaged' }], // cut short
  ])('%s with a valid CRC', (hex, answer) => {
    expect(readResponse(framed(hex), request)).toEqual(answer);
  });

  it('with a wrong CRC is damaged, and its channel is flagged', () => {
    const hurt = framed('01 03 02 00 0A');
    hurt[4] = 0x0b;
    expect(readResponse(hurt, request)).toEqual({ kind: 'damaged' });
    expect(readingOfResponse({ kind: 'damaged' }, request, [])).toEqual({
      ...pressure,
      value: Number.NaN,
      flag: 'unreadable',
    });
  });

  it('is requested channel by channel, each with its own register', () => {
    const profile = profileOf({ wordOrder: 'little' }, pressure, {
      role: 'flame_signal',
      unit: 'V',
      function: 4,
      address: 300,
      type: 'float32',
      wordOrder: 'big',
      scale: 2,
    });
    const [first, second] = requestsOf(profile);
    expect(first).toMatchObject({ function: 3, address: 107, type: 'uint16', count: 1, wordOrder: 'little' });
    expect(second).toMatchObject({ function: 4, address: 300, type: 'float32', count: 2, wordOrder: 'big' });
    const answer = readResponse(framed('01 04 04 3F 80 00 00'), second!);
    expect(readingOfResponse(answer, second!, [])).toEqual({ role: 'flame_signal', unit: 'V', value: 2 });
  });
});

describe('received bytes', () => {
  const one = framed('01 03 02 00 0A');
  const other = framed('01 83 02');
  const shown = (all: Uint8Array) => {
    const { pieces, rest } = splitFrames(all);
    return [
      ...pieces.map((piece) => `${piece.isFrame ? 'frame' : 'stray'} ${toHex(piece.bytes)}`),
      `rest ${toHex(rest)}`,
    ];
  };

  it('are split where frames are joined', () => {
    expect(shown(Uint8Array.of(...one, ...other))).toEqual([`frame ${toHex(one)}`, `frame ${toHex(other)}`, 'rest ']);
  });

  it('are kept while a frame has not arrived whole', () => {
    for (let length = 0; length < one.length; length += 1) {
      const part = one.subarray(0, length);
      expect(shown(part)).toEqual([`rest ${toHex(part)}`]);
    }
  });

  it('give a frame behind noise, and keep the noise', () => {
    expect(shown(Uint8Array.of(0, 0xff, ...one, 7))).toEqual(['stray 00 FF', `frame ${toHex(one)}`, 'rest 07']);
  });

  it('lose nothing, whatever they are and however they are mixed with frames', () => {
    const junk = fc.uint8Array({ maxLength: 30 });
    const mixed = fc.array(fc.oneof(junk, fc.constantFrom(one, other)), { maxLength: 8 });
    fc.assert(
      fc.property(mixed, (parts) => {
        const all = Uint8Array.from(parts.flatMap((part) => [...part]));
        const { pieces, rest } = splitFrames(all);
        expect(Uint8Array.from([...pieces.flatMap((piece) => [...piece.bytes]), ...rest])).toEqual(all);
        for (const piece of pieces) if (piece.isFrame) expect(hasValidCrc(piece.bytes)).toBe(true);
      }),
    );
  });
});

describe('the hex text of a response', () => {
  it('is read where only one request fits, and flagged where two do', () => {
    const volts = { role: 'flame_signal', unit: 'V', address: 300 };
    const alone = createLineDecoder(profileOf({}));
    expect(alone(toHex(framed('01 03 02 00 FA')))).toEqual([{ ...pressure, value: 250 }]);
    expect(alone('01 03 02 00 FA 00 00')).toMatchObject([{ flag: 'unreadable' }]);
    expect(alone('hello')).toMatchObject([{ flag: 'unreadable' }]);
    const alike = createLineDecoder(profileOf({}, pressure, volts));
    expect(alike(toHex(framed('01 03 02 00 FA'))).map(({ flag }) => flag)).toEqual(['unreadable', 'unreadable']);
    const unlike = createLineDecoder(profileOf({}, pressure, { ...volts, type: 'float32' }));
    expect(unlike(toHex(framed('01 03 02 00 FA')))).toEqual([{ ...pressure, value: 250 }]);
  });
});
