/**
 * An id made from content, the same wherever it is computed: 32 hex digits of four 32-bit lanes of multiply-and-rotate mixing.
 * Good enough to distinguish captures; not cryptographic, so no protection against forgery.
 * Source of the mixing: MurmurHash3 (A. Appleby), public domain; constants from memory.
 */
export function contentId(...texts: string[]): string {
  const lanes = new Uint32Array([0x9e3779b9, 0x85ebca6b, 0xc2b2ae35, 0x27d4eb2f]);
  const mix = (value: number) => {
    for (let lane = 0; lane < 4; lane += 1) {
      let h = lanes[lane]! ^ Math.imul(value + lane, 0xcc9e2d51);
      h = (h << 13) | (h >>> 19);
      lanes[lane] = Math.imul(h, 5) + 0xe6546b64;
    }
  };
  for (const text of texts) {
    for (let i = 0; i < text.length; i += 1) mix(text.charCodeAt(i));
    mix(0x1_0000 + text.length);
  }
  return Array.from(lanes, (lane) => {
    let h = lane;
    h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
    return ((h ^ (h >>> 16)) >>> 0).toString(16).padStart(8, '0');
  }).join('');
}
