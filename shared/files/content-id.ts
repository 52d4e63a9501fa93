import type { Reading } from '../model/reading.ts';

/**
 * An id made from content, the same wherever it is computed: 32 hex digits of four 32-bit lanes of multiply-and-rotate mixing.
 * Good enough to distinguish captures; not cryptographic, so no protection against forgery.
 * Source of the mixing: MurmurHash3 (A. Appleby), public domain; constants from memory.
 */
export function contentId(...texts: string[]): string {
  const { mix, digits } = createMixing();
  for (const text of texts) mixText(mix, text);
  return digits();
}

/**
 * An id made from readings, whatever the text that they were read from and however that was told: role, unit, time, value and flag of each.
 *
 * @param startS  when they began by their own clock, seconds since 1970; undefined where that is not known
 * @param beside  texts that belong to them
 */
export function readingsId(readings: readonly Reading[], startS: number | undefined, ...beside: string[]): string {
  const { mix, digits } = createMixing();
  const mixNumber = (value: number) => {
    double[0] = value;
    mix(words[0]!);
    mix(words[1]!);
  };
  const channels = new Map<string, number>();
  for (const { role, unit, elapsedS, value, flag } of readings) {
    const channel = `${role} ${unit} ${flag ?? ''}`;
    let number = channels.get(channel);
    if (number === undefined) {
      number = channels.size;
      channels.set(channel, number);
      mixText(mix, channel);
    }
    mix(number);
    mixNumber(elapsedS);
    // One that is no number is told by its flag.
    mixNumber(flag === undefined ? value : 0);
  }
  mix(readings.length);
  if (startS !== undefined) mixNumber(startS);
  for (const text of beside) mixText(mix, text);
  return digits();
}

const double = new Float64Array(1);
const words = new Uint32Array(double.buffer);

function mixText(mix: (value: number) => void, text: string): void {
  for (let i = 0; i < text.length; i += 1) mix(text.charCodeAt(i));
  mix(0x1_0000 + text.length);
}

function createMixing(): { mix(value: number): void; digits(): string } {
  const lanes = new Uint32Array([0x9e3779b9, 0x85ebca6b, 0xc2b2ae35, 0x27d4eb2f]);
  return {
    mix(value) {
      for (let lane = 0; lane < 4; lane += 1) {
        let h = lanes[lane]! ^ Math.imul(value + lane, 0xcc9e2d51);
        h = (h << 13) | (h >>> 19);
        lanes[lane] = Math.imul(h, 5) + 0xe6546b64;
      }
    },
    digits: () =>
      Array.from(lanes, (lane) => {
        let h = lane;
        h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
        h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
        return ((h ^ (h >>> 16)) >>> 0).toString(16).padStart(8, '0');
      }).join(''),
  };
}
