import { onTestFinished } from 'vitest';
import { plugInPolled } from './pty-meter.ts';
import { wait } from './wait-until.ts';

/** A request as the slave decodes it. */
export interface Request {
  unitId: number;
  function: number;
  address: number;
  count: number;
}

/** Bytes to send, one chunk after the other; a number is a pause in milliseconds. Empty: no response. */
export type Reply = (Uint8Array | number)[];

export interface Slave {
  path: string;
  /** Everything that was written to the port, in order. */
  received(): number[];
  unplug(): void;
}

/** CRC-16/MODBUS computed most significant bit first with reflected bytes: not the product's algorithm, but the same CRC. */
function crc(bytes: readonly number[]): [low: number, high: number] {
  const mirror = (value: number, bits: number) =>
    Number.parseInt(value.toString(2).padStart(bits, '0').split('').toReversed().join(''), 2);
  let sum = 0xffff;
  for (const byte of bytes) {
    sum ^= mirror(byte, 8) << 8;
    for (let bit = 0; bit < 8; bit += 1) sum = (sum & 0x8000 ? (sum << 1) ^ 0x8005 : sum << 1) & 0xffff;
  }
  const mirrored = mirror(sum, 16);
  return [mirrored & 0xff, mirrored >> 8];
}

/** The bytes with their CRC. */
export const frame = (...bytes: number[]): Uint8Array => Uint8Array.from([...bytes, ...crc(bytes)]);

export const float32 = (value: number): number[] => {
  const bytes = Buffer.alloc(4);
  bytes.writeFloatBE(value);
  return [...bytes];
};

export const int16 = (value: number): number[] => [(value >> 8) & 0xff, value & 0xff];

/** A Modbus slave on a pseudo-terminal of its own, removed after the test. It responds only to requests with a valid CRC. */
export async function plugInSlave(path: string, respond: (request: Request) => Reply): Promise<Slave> {
  const received: number[] = [];
  let buffer: number[] = [];
  const sends: Promise<void>[] = [];
  onTestFinished(async () => void (await Promise.all(sends)));
  const meter = await plugInPolled(path, (bytes) => {
    received.push(...bytes);
    buffer.push(...bytes);
    while (buffer.length >= 8) {
      const request = buffer.slice(0, 8);
      buffer = buffer.slice(8);
      const [unitId = 0, code = 0, a = 0, b = 0, c = 0, d = 0, low, high] = request;
      const sum = crc(request.slice(0, 6));
      if (low !== sum[0] || high !== sum[1]) continue;
      sends.push(send(respond({ unitId, function: code, address: 256 * a + b, count: 256 * c + d })));
    }
  });
  const send = async (reply: Reply) => {
    for (const part of reply) {
      if (typeof part === 'number') await wait(part);
      else meter.send(part);
    }
  };
  return { path, received: () => received, unplug: meter.unplug };
}
