import { getHeapStatistics } from 'node:v8';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';

/** What a reading takes in memory while a capture is read, written or analyzed, bytes. Measured: 300 000 fit into 256 MB, 600 000 do not. */
const bytesPerReading = 800;
/** What V8 counts into the limit of its heap for values that have just been made, bytes: nothing stays there. */
const youngBytes = 210_000_000;

/** Marks per line from which a tab or semicolon separates cells, as for who reads the file; blank lines have none. */
const separatingShare = 0.8;

const [tab, lineFeed, carriageReturn, comma, semicolon] = [9, 10, 13, 44, 59];

/**
 * `file-too-large` when so many readings need more memory than this program was given: it would be ended in the middle of them.
 * @param heapBytes  the memory for them
 */
export function memoryFault(
  file: string,
  readings: number,
  heapBytes = getHeapStatistics().heap_size_limit,
): Fault | undefined {
  const most = Math.floor(Math.max(0, heapBytes - youngBytes) / bytesPerReading);
  if (readings <= most) return undefined;
  return fault('file-too-large', {
    file,
    found: `about ${readings.toLocaleString('en')} readings`,
    most: `${most.toLocaleString('en')} in the memory that this program has`,
  });
}

/**
 * How many readings a wide CSV or another logger's file holds at most: cells behind the first of each row that are not empty. Where a tab or
 * a semicolon stands in nearly every line, it separates and a comma does not: that is the decimal sign.
 */
export function cellsIn(bytes: Uint8Array): number {
  const found = new Map([tab, semicolon, comma].map((mark) => [mark, { marks: 0, cells: 0 }]));
  let lines = 1;
  for (let i = 0; i + 1 < bytes.length; i += 1) {
    const byte = bytes[i]!;
    if (byte === lineFeed) lines += 1;
    if (byte !== comma && byte !== semicolon && byte !== tab) continue;
    const one = found.get(byte)!;
    one.marks += 1;
    const next = bytes[i + 1];
    if (next !== comma && next !== tab && next !== semicolon && next !== lineFeed && next !== carriageReturn)
      one.cells += 1;
  }
  const separating = [tab, semicolon]
    .map((mark) => found.get(mark)!)
    .filter(({ marks }) => marks >= separatingShare * lines);
  const counted = separating.length > 0 ? separating : [...found.values()];
  return counted.reduce((sum, { cells }) => sum + cells, 0);
}

/** How many rows the tables of a package have: about as many as readings, or twice that with the lines they were read from. */
export function rowsIn(entries: ReadonlyMap<string, Uint8Array>): number {
  let rows = 0;
  for (const [name, bytes] of entries)
    if (name.endsWith('.csv')) for (let at = -1; (at = bytes.indexOf(lineFeed, at + 1)) >= 0;) rows += 1;
  return rows;
}
