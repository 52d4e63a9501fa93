/**
 * The checksum of Modbus frames (CRC-16): polynomial A001 hex (8005 reflected), initial value FFFF, low byte first on the wire.
 * Source: MODBUS over Serial Line V1.02 (2006), 2.5.1.2 and appendix B.
 */
export function crc16(bytes: Uint8Array): number {
  let crc = 0xffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc & 1) === 1 ? (crc >> 1) ^ 0xa001 : crc >> 1;
  }
  return crc;
}

/** `bytes` with their CRC appended. */
export function withCrc(bytes: readonly number[]): Uint8Array {
  const crc = crc16(Uint8Array.from(bytes));
  return Uint8Array.from([...bytes, crc & 0xff, crc >> 8]);
}

/** Whether the last two bytes are the CRC of those before. */
export const hasValidCrc = (frame: Uint8Array): boolean =>
  frame.length > 2 && crc16(frame.subarray(0, -2)) === (frame.at(-2) ?? 0) + 256 * (frame.at(-1) ?? 0);
