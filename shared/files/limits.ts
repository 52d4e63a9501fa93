import type { Fault } from '../model/faults.ts';
import { fault } from '../model/faults.ts';

/** Largest file, bytes. The longest string of V8 has 2^29 - 24 characters, some 537 million, so no table can be longer. */
export const maxFileBytes = 500_000_000;

/** Largest total of an unpacked package, bytes: its lines and its readings. */
const maxPackageBytes = 2 * maxFileBytes;

/**
 * Most rows of one table, and most readings of a wide CSV: 8 hours at 170 per second, where two fast meters send 40. A whole capture
 * is processed in memory, where this many lines with their readings take about 3 GB.
 */
const maxRows = 5_000_000;

/** Most separators and quotes of one table: 12 per row. The cells between them stay in memory until the table is read. */
const maxCells = 60_000_000;

/** Most columns of one table; usable ones have a dozen. */
const maxColumns = 1000;

const withCommas = (count: number): string => count.toLocaleString('en');
const megabytes = (bytes: number): string => `${withCommas(Math.ceil(bytes / 1_000_000))} MB`;

const countFault = (file: string, found: number, most: number, what: string): Fault | undefined =>
  found > most
    ? fault('file-too-large', { file, found: `${withCommas(found)} ${what}`, most: withCommas(most) })
    : undefined;

/** `file-too-large` when a file has more bytes than the limit. */
export const bytesFault = (file: string, bytes: number): Fault | undefined =>
  bytes > maxFileBytes
    ? fault('file-too-large', { file, found: megabytes(bytes), most: megabytes(maxFileBytes) })
    : undefined;

/** `file-too-large` for the files of a package, by name and size in bytes, when one of them or their total exceeds the limit. */
export function entriesFault(file: string, sizes: Map<string, number>): Fault | undefined {
  for (const [name, bytes] of sizes) {
    const large = bytesFault(`${file}: ${name}`, bytes);
    if (large) return large;
  }
  const all = [...sizes.values()].reduce((sum, bytes) => sum + bytes, 0);
  return all > maxPackageBytes
    ? fault('file-too-large', { file, found: megabytes(all), most: megabytes(maxPackageBytes) })
    : undefined;
}

/** `file-too-large` when a capture has more readings than the limit. */
export const readingsFault = (file: string, count: number): Fault | undefined =>
  countFault(file, count, maxRows, 'readings');

/**
 * `file-too-large` for a table that would take more memory than a capture may. Counts its separators before anything is parsed:
 * parsing a text of nothing but line endings would run out of memory.
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
    countFault(file, rows, maxRows, 'rows') ??
    countFault(file, cells, maxCells, 'cells') ??
    countFault(file, columns, maxColumns, 'columns')
  );
}
