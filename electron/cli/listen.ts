import { setTimeout } from 'node:timers/promises';
import type { OpenPort } from '../host/acquire/port.ts';

// In the order in which meters use them.
const baudRates = [9600, 115_200, 19_200, 4800, 38_400, 57_600, 2400];
// A slow meter sends twice a second; less is not waited for.
const listenMs = 1300;

/** What was heard on a port. */
export interface Heard {
  status: 'silent' | 'lines' | 'unreadable' | 'unavailable';
  baudRate?: number;
  /** A line as it came. */
  sample?: string;
  /** The same for people. */
  says: string;
}

/**
 * Listens to a port at one baud rate after the other until lines of text come; writes nothing. A port that is silent at the first
 * rate is silent at all of them, since bytes come at any rate, if only as garbage.
 */
export async function listenTo(path: string, openPort: OpenPort): Promise<Heard> {
  for (const baudRate of baudRates) {
    let bytes = Buffer.alloc(0);
    const opened = await openPort({
      path,
      serial: { baudRate, dataBits: 8, parity: 'none', stopBits: 1 },
      onBytes: (more) => {
        // Enough to judge by; a meter that floods the port is not kept.
        if (bytes.length < 8192) bytes = Buffer.concat([bytes, more]);
      },
      onLost: () => {},
    });
    if (!opened.ok) return { status: 'unavailable', says: opened.fault.message };
    await setTimeout(listenMs);
    await opened.value.close();
    if (bytes.length === 0)
      return { status: 'silent', says: 'silent: off, not sending by itself, or nothing connected' };
    const sample = textLine(bytes);
    if (sample !== undefined)
      return { status: 'lines', baudRate, sample, says: `${shapeOf(sample)} at ${baudRate} baud, such as "${sample}"` };
  }
  return { status: 'unreadable', says: 'sends, but no lines of text at the usual baud rates' };
}

/**
 * A whole line, when what came looks like lines: printable ASCII nearly throughout, with line ends. The first line is left out, as the
 * port was opened in the middle of it.
 */
export function textLine(bytes: Uint8Array): string | undefined {
  const printable = bytes.reduce(
    (count, byte) => count + Number((byte >= 32 && byte < 127) || (byte >= 9 && byte <= 13)),
    0,
  );
  if (printable < bytes.length * 0.95) return undefined;
  const lines = new TextDecoder('latin1').decode(bytes).split(/[\r\n]+/u);
  return lines
    .slice(1, -1)
    .map((line) => line.trim())
    .find((line) => line !== '')
    ?.slice(0, 80);
}

/** What the numbers in a line look like. */
export function shapeOf(line: string): string {
  const numbers = line.match(/(?<![A-Za-z\d.])[+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/gu) ?? [];
  if (numbers.length === 0) return 'text without numbers';
  return numbers.length === 1 ? 'one number a line' : `${numbers.length} numbers a line`;
}
