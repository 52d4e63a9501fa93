const table = Uint32Array.from({ length: 256 }, (_, byte) => {
  let remainder = byte;
  for (let bit = 0; bit < 8; bit += 1) remainder = remainder & 1 ? 0xedb8_8320 ^ (remainder >>> 1) : remainder >>> 1;
  return remainder;
});

/**
 * The check sum of a file in a zip, 0 to 2^32 - 1.
 * Source: ISO/IEC 8802-3 CRC-32, reflected, as APPNOTE 4.4.7 of the zip format has it.
 */
export function crc32(bytes: Uint8Array): number {
  let remainder = 0xffff_ffff;
  for (const byte of bytes) remainder = table[(remainder ^ byte) & 0xff]! ^ (remainder >>> 8);
  return (remainder ^ 0xffff_ffff) >>> 0;
}
