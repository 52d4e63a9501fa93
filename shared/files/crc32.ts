const table = Int32Array.from({ length: 256 }, (_, byte) => {
  let remainder = byte;
  for (let bit = 0; bit < 8; bit += 1) remainder = remainder & 1 ? 0xedb8_8320 ^ (remainder >>> 1) : remainder >>> 1;
  return remainder;
});
/** What a byte adds to the remainder of a word with one, two and three further bytes behind it. */
const one = table.map((remainder) => table[remainder & 0xff]! ^ (remainder >>> 8));
const two = one.map((remainder) => table[remainder & 0xff]! ^ (remainder >>> 8));
const three = two.map((remainder) => table[remainder & 0xff]! ^ (remainder >>> 8));

/**
 * The check sum of a file in a zip, 0 to 2^32 - 1.
 * Source: ISO/IEC 8802-3 CRC-32, reflected, as APPNOTE 4.4.7 of the zip format has it; four bytes at a time by Kounavis and Berry 2008,
 * IEEE Trans. Computers 57, 1550 (slicing).
 */
export function crc32(bytes: Uint8Array): number {
  const n = bytes.length;
  let remainder = -1;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    remainder ^= bytes[i]! | (bytes[i + 1]! << 8) | (bytes[i + 2]! << 16) | (bytes[i + 3]! << 24);
    remainder =
      three[remainder & 0xff]! ^
      two[(remainder >>> 8) & 0xff]! ^
      one[(remainder >>> 16) & 0xff]! ^
      table[remainder >>> 24]!;
  }
  for (; i < n; i += 1) remainder = table[(remainder ^ bytes[i]!) & 0xff]! ^ (remainder >>> 8);
  return (remainder ^ 0xffff_ffff) >>> 0;
}
