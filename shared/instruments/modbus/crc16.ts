/**
 * The check sum of Modbus frames: polynomial A001 hex (8005 mirrored), started with ones, low byte first on the wire.
 * Source: MODBUS over Serial Line V1.02 (2006), 2.5.1.2 and appendix B.
 */
export function crc16(bytes: Uint8Array): number {
  let sum = 0xffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit += 1) sum = (sum & 1) === 1 ? (sum >> 1) ^ 0xa001 : sum >> 1;
  }
  return sum;
}

/** `bytes` with their check sum behind them. */
export function withCrc(bytes: readonly number[]): Uint8Array {
  const sum = crc16(Uint8Array.from(bytes));
  return Uint8Array.from([...bytes, sum & 0xff, sum >> 8]);
}

/** Whether the last two bytes are the check sum of those before. */
export const hasGoodCrc = (frame: Uint8Array): boolean =>
  frame.length > 2 && crc16(frame.subarray(0, -2)) === (frame.at(-2) ?? 0) + 256 * (frame.at(-1) ?? 0);
