import { describe, expect, it } from 'vitest';
import { createGarbleDetector, frameName, detectText } from '../../../electron/host/acquire/detect/serial-framing.ts';

/** Bytes from hexadecimal text, worked out by hand. */
const hex = (text: string) => Uint8Array.from(text.split(' ').map((byte) => Number.parseInt(byte, 16)));

const detected = (bytes: Uint8Array) => {
  const found = detectText(bytes);
  return found && [frameName(found.frame), found.text];
};

/*
 * "2.31" CR LF in ASCII (ITU-T T.50) is 32 2E 33 31 0D 0A. Ones in each: 32 has 3, 2E has 4, 33 has 4, 31 has 3, 0D has 3, 0A has 2.
 * A parity bit makes the number of ones even or odd, parity bit included, and is sent after the seven data bits, where a receiver
 * of eight data bits has its eighth (common practice with EIA-232).
 */
describe('the frame of bytes received by a port opened as 8N1', () => {
  it('is 8N1 where the eighth bit is zero', () => {
    expect(detected(hex('32 2E 33 31 0D 0A'))).toEqual(['8N1', '2.31\r\n']);
  });

  it('is 7E1 where the eighth bit makes the ones even', () => {
    expect(detected(hex('B2 2E 33 B1 8D 0A'))).toEqual(['7E1', '2.31\r\n']);
  });

  it('is 7O1 where the eighth bit makes the ones odd', () => {
    expect(detected(hex('32 AE B3 31 0D 8A'))).toEqual(['7O1', '2.31\r\n']);
  });

  it('is 7N2 where the eighth bit is always one, being the first stop bit', () => {
    expect(detected(hex('B2 AE B3 B1 8D 8A'))).toEqual(['7N2', '2.31\r\n']);
  });

  it('stays 8N1 with the micro and degree signs of ISO 8859-1 and UTF-8 in the line', () => {
    // "4.50 µA" LF, "21 °C" LF.
    expect(detected(hex('34 2E 35 30 20 B5 41 0A'))?.[0]).toBe('8N1');
    expect(detected(hex('34 2E 35 30 20 C2 B5 41 0A'))?.[0]).toBe('8N1');
    expect(detected(hex('32 31 20 B0 43 0A'))?.[0]).toBe('8N1');
  });

  it('is not guessed where the eighth bit follows no rule', () => {
    // The 7E1 line above with every second parity bit wrong.
    expect(detected(hex('32 2E B3 B1 0D 0A B2 AE 33 31 8D 8A'))).toBeUndefined();
  });
});

describe('garbage on a connected port', () => {
  it('is what a slow line gives at a fast speed: bytes of long runs of one level', () => {
    const watch = createGarbleDetector();
    // A character at a quarter of the speed: each bit fills four, so that nibbles are 0 or F (worked out by hand).
    for (let i = 0; i < 20; i += 1) watch.add(hex('F0 00 FF 0F'));
    expect(watch.isGarbled()).toBe(true);
  });

  it('is not reported after a short burst nor for text, and no longer when text comes again', () => {
    const watch = createGarbleDetector();
    watch.add(hex('F0 00 FF 0F F0 00 FF 0F'));
    expect(watch.isGarbled()).toBe(false);
    const lines = new TextEncoder().encode('2.31 inH2O\r\n'.repeat(20));
    watch.add(lines);
    expect(watch.isGarbled()).toBe(false);
    for (let i = 0; i < 60; i += 1) watch.add(hex('F0 00 FF 0F'));
    expect(watch.isGarbled()).toBe(true);
    watch.add(lines);
    expect(watch.isGarbled()).toBe(false);
  });

  it('is what 7E1 gives in a port opened as 8N1', () => {
    const watch = createGarbleDetector();
    // "2.31" CR LF in 7E1, from above: three of six bytes are above 7F.
    for (let i = 0; i < 20; i += 1) watch.add(hex('B2 2E 33 B1 8D 0A'));
    expect(watch.isGarbled()).toBe(true);
  });
});
