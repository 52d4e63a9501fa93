import type { Profile } from '../../../../shared/model/profile.ts';

export type Serial = Profile['serial'];
/** Data bits, parity and stop bits of a character on the wire. */
export type Frame = Omit<Serial, 'baudRate'>;

export const frames = {
  '8N1': { dataBits: 8, parity: 'none', stopBits: 1 },
  '7E1': { dataBits: 7, parity: 'even', stopBits: 1 },
  '7O1': { dataBits: 7, parity: 'odd', stopBits: 1 },
  '7N2': { dataBits: 7, parity: 'none', stopBits: 2 },
  '8E1': { dataBits: 8, parity: 'even', stopBits: 1 },
  '8O1': { dataBits: 8, parity: 'odd', stopBits: 1 },
} as const satisfies Record<string, Frame>;

const letters = { none: 'N', even: 'E', odd: 'O' } as const;

/** A frame in the usual notation, such as "7E1". */
export const frameName = ({ dataBits, parity, stopBits }: Frame): string => `${dataBits}${letters[parity]}${stopBits}`;

/** Text decoded from bytes, one character a byte (ISO 8859-1), and the frame that the meter seems to use. */
export interface DetectedText {
  text: string;
  frame: Frame;
}

/** A meter's line is ASCII but for a unit sign (one or two bytes of eight); half of the bytes of a seven-bit frame are not. */
const minPrintableShare = 0.7;
/** Nearly all: noise at plugging in and a first character cut in two are tolerated. */
const nearlyAll = 0.95;

const isAscii = (byte: number): boolean => (byte >= 32 && byte < 127) || (byte >= 9 && byte <= 13);
// ISO 8859-1: the signs of degree, plus-minus, square, cube and micro; 0xc2 and 0xce lead the same, mu and omega in UTF-8.
const isSign = (byte: number): boolean =>
  (byte >= 0xb0 && byte <= 0xb3) || byte === 0xb5 || byte === 0xc2 || byte === 0xce || byte === 0xbc || byte === 0xa9;

/** The share of bytes for which `test` holds, 0 to 1; 0 of no bytes. */
const share = (bytes: Uint8Array, test: (byte: number) => boolean): number =>
  bytes.length === 0 ? 0 : bytes.reduce((count, byte) => count + Number(test(byte)), 0) / bytes.length;

/** The share of bytes that are printable ASCII, blanks or line endings, 0 to 1; 0 of no bytes. */
export const printableShare = (bytes: Uint8Array): number => share(bytes, isAscii);

/** Whether the number of ones among the eight bits is even. */
function isEven(byte: number): boolean {
  let rest = byte;
  for (const shift of [4, 2, 1]) rest ^= rest >> shift;
  return (rest & 1) === 0;
}

/**
 * Detects text in bytes that came through a port opened as 8N1; undefined when they are no text.
 *
 * A frame of seven data bits with a parity bit, or with two stop bits, is as long as 8N1, so its bytes come whole, with the parity
 * bit (or the first stop bit, a one) as the eighth bit: it is recognized without opening the port again. Frames of eleven bits (8E1,
 * 8O1) do not come whole. ASCII as in ITU-T T.50; start, data (low bit first), parity, stop as in common practice with EIA-232.
 */
export function detectText(bytes: Uint8Array): DetectedText | undefined {
  const low = (byte: number) => byte & 0x7f;
  if (bytes.some((byte) => byte > 0x7f) && share(bytes, (byte) => isAscii(low(byte))) >= nearlyAll) {
    const sevenBitFrames: [Frame, (byte: number) => boolean][] = [
      [frames['7E1'], isEven],
      [frames['7O1'], (byte) => !isEven(byte)],
      [frames['7N2'], (byte) => byte > 0x7f],
    ];
    for (const [frame, isAsFramed] of sevenBitFrames)
      if (share(bytes, isAsFramed) >= nearlyAll) return { text: Buffer.from(bytes.map(low)).toString('latin1'), frame };
  }
  // A wrong speed would give signs alone, too.
  if (share(bytes, (byte) => isAscii(byte) || isSign(byte)) < nearlyAll || printableShare(bytes) < minPrintableShare)
    return undefined;
  return { text: Buffer.from(bytes).toString('latin1'), frame: frames['8N1'] };
}

/** Follows the bytes of one connection and distinguishes text from what a wrong speed or frame makes of it. */
export interface GarbleDetector {
  add(bytes: Uint8Array): void;
  isGarbled(): boolean;
  clear(): void;
}

// Some lines' worth: enough that a burst of noise does not count, little enough that the decision takes only seconds.
const recentBytes = 200;
const minBytes = 40;

export function createGarbleDetector(): GarbleDetector {
  let recent = Buffer.alloc(0);
  return {
    add(bytes) {
      recent = Buffer.concat([recent, bytes.subarray(-recentBytes)]).subarray(-recentBytes);
    },
    isGarbled: () => recent.length >= minBytes && printableShare(recent) < minPrintableShare,
    clear() {
      recent = Buffer.alloc(0);
    },
  };
}
