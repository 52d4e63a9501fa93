import { fault } from '../../model/faults.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';

/** Most characters of one line: a thousand columns of a hundred characters. */
const longestLine = 100_000;

export type Encoding = 'UTF-8' | 'UTF-16LE' | 'UTF-16BE' | 'Latin-1';

/**
 * The text of a logger's file and its encoding: by its byte order mark; else UTF-16 where every other byte is NUL, as in plain
 * letters; else UTF-8 where all bytes are valid; else Latin-1. Line endings become LF.
 * Source of the marks: The Unicode Standard, section 23.8.
 * Fails with `logger-unreadable`: NUL bytes in other places, broken UTF-16, a line over 100 000 characters.
 */
export function decodeText(file: string, bytes: Uint8Array): Outcome<{ text: string; encoding: Encoding }> {
  const encoding = encodingOf(bytes);
  const unreadable = (problem: string) => fail(fault('logger-unreadable', { file, problem }));
  let text: string;
  try {
    text = new TextDecoder(encoding === 'Latin-1' ? 'windows-1252' : encoding, { fatal: true }).decode(bytes);
  } catch {
    return unreadable(`it is not valid ${encoding}`);
  }
  if (text.includes('\0')) return unreadable('it contains NUL characters, which no text file has');
  text = text.replace(/\r\n?/gu, '\n');
  for (let at = 0, line = 1; at <= text.length; line += 1) {
    const end = text.indexOf('\n', at);
    const stop = end < 0 ? text.length : end;
    if (stop - at > longestLine) return unreadable(`line ${line} is longer than ${longestLine} characters`);
    at = stop + 1;
  }
  return ok({ text, encoding });
}

function encodingOf(bytes: Uint8Array): Encoding {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return 'UTF-16LE';
  if (first === 0xfe && second === 0xff) return 'UTF-16BE';
  const head = bytes.subarray(0, 4096);
  const nul = [0, 0];
  head.forEach((byte, i) => {
    if (byte === 0) nul[i % 2]! += 1;
  });
  // Letters, digits and signs of European languages have the high byte zero, so most pairs do; none has the low byte zero.
  if (nul[0] === 0 && nul[1]! > head.length / 4) return 'UTF-16LE';
  if (nul[1] === 0 && nul[0]! > head.length / 4) return 'UTF-16BE';
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return 'UTF-8';
  } catch {
    return 'Latin-1';
  }
}
