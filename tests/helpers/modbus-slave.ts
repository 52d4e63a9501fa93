import { plugInAsked } from './pty-meter.ts';

/** A question as the slave understands it. */
export interface Question {
  unitId: number;
  function: number;
  address: number;
  count: number;
}

/** Bytes to send, one chunk after the other; a number is a wait in milliseconds. Nothing: no answer. */
export type Reply = (Uint8Array | number)[];

export interface Slave {
  path: string;
  /** Everything that was written to the port, in order. */
  heard(): number[];
  unplug(): void;
}

/** CRC-16/MODBUS most significant bit first, with mirrored bytes: another way than the product's, the same sum. */
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

export const frame = (...bytes: number[]): Uint8Array => Uint8Array.from([...bytes, ...crc(bytes)]);

export const float32 = (value: number): number[] => {
  const bytes = Buffer.alloc(4);
  bytes.writeFloatBE(value);
  return [...bytes];
};

export const int16 = (value: number): number[] => [(value >> 8) & 0xff, value & 0xff];

/** A Modbus slave on a pseudo-terminal of its own, gone after the test. It answers sound questions only. */
export async function plugInSlave(path: string, answer: (question: Question) => Reply): Promise<Slave> {
  const heard: number[] = [];
  let waiting: number[] = [];
  const meter = await plugInAsked(path, (bytes) => {
    heard.push(...bytes);
    waiting.push(...bytes);
    while (waiting.length >= 8) {
      const asked = waiting.slice(0, 8);
      waiting = waiting.slice(8);
      const [unitId = 0, code = 0, a = 0, b = 0, c = 0, d = 0, low, high] = asked;
      const sum = crc(asked.slice(0, 6));
      if (low !== sum[0] || high !== sum[1]) continue;
      void send(answer({ unitId, function: code, address: 256 * a + b, count: 256 * c + d }));
    }
  });
  const send = async (reply: Reply) => {
    for (const part of reply) {
      if (typeof part !== 'number') meter.send(part);
      else
        await new Promise((resolve) => {
          setTimeout(resolve, part);
        });
    }
  };
  return { path, heard: () => heard, unplug: meter.unplug };
}
