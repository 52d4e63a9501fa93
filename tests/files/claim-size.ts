/**
 * The zip with another uncompressed size of one entry in its directory, bytes.
 * Source: APPNOTE.TXT 6.3 (PKWARE), 4.3.12 central directory header: signature 0x02014b50, uncompressed size at 24, length of the name
 * at 28, name at 46 (from memory).
 */
export function claimSize(zip: Uint8Array, name: string, size: number): Uint8Array {
  const claimed = Buffer.from(zip);
  for (let at = claimed.indexOf('PK\u0001\u0002'); at >= 0; at = claimed.indexOf('PK\u0001\u0002', at + 1)) {
    const found = claimed.toString('utf8', at + 46, at + 46 + claimed.readUInt16LE(at + 28));
    if (found === name) claimed.writeUInt32LE(size, at + 24);
  }
  return new Uint8Array(claimed);
}
