import { crc32 as zlibCrc32 } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { crc32 } from '../../shared/files/crc32.ts';
import { readZip, writeZip } from '../../shared/files/zip.ts';

const textOf = (text: string) => new TextEncoder().encode(text);
const entries = new Map([
  ['datapackage.json', textOf('{"name": "visit"}')],
  ['readings.csv', textOf('elapsed_s,value\n'.concat('0.1,2.41\n'.repeat(50)))],
  ['data/lines.csv', new Uint8Array(0)],
]);
const packed = writeZip(entries);
const damaged = { ok: false, fault: { code: 'package-invalid' } };

describe('the check sum of a file in a zip', () => {
  it('of "123456789" is CBF43926, as the published check value of CRC-32 has it', () => {
    expect(crc32(textOf('123456789'))).toBe(0xcbf4_3926);
  });

  it('is the one of zlib for any bytes', () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => crc32(bytes) === zlibCrc32(bytes)));
  });
});

describe('a zip', () => {
  it('gives back what was packed', () => {
    const read = readZip(packed, 'visit.zip');
    expect(read.ok && [...read.value].map(([name, bytes]) => [name, new TextDecoder().decode(bytes)])).toEqual(
      Array.from(entries, ([name, bytes]) => [name, new TextDecoder().decode(bytes)]),
    );
  });

  it('of which one byte is another is refused, or its files are as they were', () => {
    const mutation = fc.tuple(fc.nat(packed.length - 1), fc.integer({ min: 1, max: 255 }));
    fc.assert(
      fc.property(mutation, ([at, flip]) => {
        const bytes = packed.slice();
        bytes[at]! ^= flip;
        const read = readZip(bytes, 'visit.zip');
        if (!read.ok) return;
        for (const [name, content] of read.value) if (entries.has(name)) expect(content).toEqual(entries.get(name));
      }),
      { numRuns: 1000, seed: 20_261_127 },
    );
  });

  it('whose file has another check sum or length than its directory says is refused', () => {
    const directory = Buffer.from(packed).indexOf(Buffer.from([0x50, 0x4b, 1, 2]));
    for (const [what, at] of [
      ['sum', 16],
      ['length', 24],
    ] as const) {
      const bytes = packed.slice();
      bytes[directory + at]! ^= 1;
      expect({ what, ...readZip(bytes, 'visit.zip') }).toMatchObject({ what, ...damaged });
    }
  });

  it('with two files of one name is refused: nobody can say which of them is meant', () => {
    const one = writeZip(
      new Map([
        ['a.csv', textOf('1')],
        ['b.csv', textOf('2')],
      ]),
    );
    const bytes = Buffer.from(one);
    for (let at = bytes.indexOf('b.csv'); at >= 0; at = bytes.indexOf('b.csv')) bytes.write('a.csv', at);
    expect(readZip(bytes, 'visit.zip')).toMatchObject({
      ok: false,
      fault: { message: expect.stringContaining('two files named a.csv') },
    });
  });
});
