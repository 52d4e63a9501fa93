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

/** A frame as the trade writes it, such as "7E1". */
export const frameName = ({ dataBits, parity, stopBits }: Frame): string => `${dataBits}${letters[parity]}${stopBits}`;

/** Text taken from bytes, one letter a byte (ISO 8859-1), and the frame in which the meter seems to send them. */
export interface ReceivedText {
  text: string;
  frame: Frame;
}

/** A meter's line is plain but for a unit sign (one or two bytes of eight); half of the bytes of a seven-bit frame are not. */
const mostlyPlain = 0.7;
/** Nearly all: noise at plugging in and the cut first character are forgiven. */
const nearly = 0.95;

const isAscii = (byte: number): boolean => (byte >= 32 && byte < 127) || (byte >= 9 && byte <= 13);
// ISO 8859-1: the signs of degree, plus-minus, square, cube and micro; 0xc2 and 0xce lead the same, mu and omega in UTF-8.
const isSign = (byte: number): boolean =>
  (byte >= 0xb0 && byte <= 0xb3) || byte === 0xb5 || byte === 0xc2 || byte === 0xce || byte === 0xbc || byte === 0xa9;

const share = (bytes: Uint8Array, holds: (byte: number) => boolean): number =>
  bytes.length === 0 ? 0 : bytes.reduce((count, byte) => count + Number(holds(byte)), 0) / bytes.length;

/** The share of bytes that are printable ASCII, blanks or line ends; 0 of no bytes. */
export const plainShare = (bytes: Uint8Array): number => share(bytes, isAscii);

/** Whether the ones among all eight bits are even in number. */
function isEven(byte: number): boolean {
  let rest = byte;
  for (const shift of [4, 2, 1]) rest ^= rest >> shift;
  return (rest & 1) === 0;
}

/**
 * The text in bytes that came through a port opened as 8N1; undefined when they are no text.
 *
 * A frame of seven data bits with a parity bit, or with two stop bits, is as long as 8N1, so its bytes come whole, with the parity
 * bit (or the first stop bit, a one) as the eighth bit: it need not be opened anew to be recognised. Frames of eleven bits (8E1, 8O1)
 * do not come whole. ASCII as in ITU-T T.50; start, data (low bit first), parity, stop as in common practice with EIA-232.
 */
export function textIn(bytes: Uint8Array): ReceivedText | undefined {
  const low = (byte: number) => byte & 0x7f;
  if (bytes.some((byte) => byte > 0x7f) && share(bytes, (byte) => isAscii(low(byte))) >= nearly) {
    const sevenBit: [Frame, (byte: number) => boolean][] = [
      [frames['7E1'], isEven],
      [frames['7O1'], (byte) => !isEven(byte)],
      [frames['7N2'], (byte) => byte > 0x7f],
    ];
    for (const [frame, holds] of sevenBit)
      if (share(bytes, holds) >= nearly) return { text: Buffer.from(bytes.map(low)).toString('latin1'), frame };
  }
  // Signs alone would also be what a wrong speed gives.
  if (share(bytes, (byte) => isAscii(byte) || isSign(byte)) < nearly || plainShare(bytes) < mostlyPlain)
    return undefined;
  return { text: Buffer.from(bytes).toString('latin1'), frame: frames['8N1'] };
}

/** Follows the bytes of one connection and tells text from what a wrong speed or frame makes of it. */
export interface GarbleWatch {
  add(bytes: Uint8Array): void;
  isGarbled(): boolean;
  clear(): void;
}

// Some lines' worth: enough that a burst of noise is no verdict, little enough that the verdict follows within seconds.
const watchedBytes = 200;
const leastBytes = 40;

export function createGarbleWatch(): GarbleWatch {
  let recent = Buffer.alloc(0);
  return {
    add(bytes) {
      recent = Buffer.concat([recent, bytes.subarray(-watchedBytes)]).subarray(-watchedBytes);
    },
    isGarbled: () => recent.length >= leastBytes && plainShare(recent) < mostlyPlain,
    clear() {
      recent = Buffer.alloc(0);
    },
  };
}
