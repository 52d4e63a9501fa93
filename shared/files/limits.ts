import type { Fault } from '../model/faults.ts';
import { fault } from '../model/faults.ts';

/** Most bytes of one file. A text of V8 ends at 2^29 - 24 characters, some 537 million, and so no table can be longer. */
export const mostBytes = 500_000_000;

/** Most bytes that a package unpacks to: its lines and its readings. */
const mostBytesOfAll = 2 * mostBytes;

/**
 * Most rows of one table, and most readings of a wide CSV: 8 hours at 170 a second, where two fast meters send 40. A whole capture
 * is worked on in memory, where so many lines with their readings take about 3 GB.
 */
const mostRows = 5_000_000;

/** Most separators and quotes of one table: 12 a row. What they part stays in memory until the table is read. */
const mostCells = 60_000_000;

/** Most columns of one table; what can be read has a dozen. */
const mostColumns = 1000;

const many = (count: number): string => count.toLocaleString('en');
const megabytes = (bytes: number): string => `${many(Math.ceil(bytes / 1_000_000))} MB`;

const tooMuch = (file: string, found: number, most: number, what: string): Fault | undefined =>
  found > most ? fault('file-too-large', { file, found: `${many(found)} ${what}`, most: many(most) }) : undefined;

/** `file-too-large` for a file of so many bytes, when that is more than is read. */
export const bytesFault = (file: string, bytes: number): Fault | undefined =>
  bytes > mostBytes
    ? fault('file-too-large', { file, found: megabytes(bytes), most: megabytes(mostBytes) })
    : undefined;

/** `file-too-large` for the files of a package, by name and size, when one of them or all together are more than is read. */
export function entriesFault(file: string, sizes: Map<string, number>): Fault | undefined {
  for (const [name, bytes] of sizes) {
    const large = bytesFault(`${file}: ${name}`, bytes);
    if (large) return large;
  }
  const all = [...sizes.values()].reduce((sum, bytes) => sum + bytes, 0);
  return all > mostBytesOfAll
    ? fault('file-too-large', { file, found: megabytes(all), most: megabytes(mostBytesOfAll) })
    : undefined;
}

/** `file-too-large` for more readings than one capture may hold. */
export const readingsFault = (file: string, count: number): Fault | undefined =>
  tooMuch(file, count, mostRows, 'readings');

/**
 * `file-too-large` for a table that would take more memory than a capture may. Judged from its marks, before anything is made of
 * them: taking a text apart that is nothing but line ends ends the process.
 */
export function tableFault(file: string, text: string): Fault | undefined {
  let rows = 0;
  let cells = 0;
  let columns = 1;
  let before = 0;
  for (let i = 0; i < text.length; i += 1) {
    const code = text.charCodeAt(i);
    // A line ends with LF, CR or both.
    if (code === 13 || (code === 10 && before !== 13)) rows += 1;
    else if (code === 44 || code === 59) {
      cells += 1;
      if (rows === 0) columns += 1;
    } else if (code === 34) cells += 1;
    before = code;
  }
  return (
    tooMuch(file, rows, mostRows, 'rows') ??
    tooMuch(file, cells, mostCells, 'cells') ??
    tooMuch(file, columns, mostColumns, 'columns')
  );
}
