import { type Mark, markKinds, type RawLine } from '../model/capture.ts';
import { type Flag, flags, type Reading, roles, unitFits, unitsOfRole } from '../model/reading.ts';
import { createSkippedRows, excerpt, noTime } from './skipped-rows.ts';
import type { NamedText } from './setup-file.ts';
import { parseNumber, readTable } from './table.ts';

/** The usable rows of a table, and notices about the others. */
export interface TableRows<T> {
  heading: string[];
  rows: T[];
  notices: string[];
}

/** The cell of a row in one column; empty when the row ends before, or the table has no such column. */
type Cell = (row: string[]) => string;

/** Reads the rows of a table one by one; `reader` is given its columns by their names, and tells the value of a row or why it cannot be used. */
function readRows<T extends object>(
  { file, text }: NamedText,
  reader: (column: (name: string) => Cell) => (row: string[]) => T | string,
  options: { verbatim?: boolean } = {},
): TableRows<T> {
  const { heading, rows: cells } = readTable(text, { exact: true, ...options });
  const read = reader((name) => {
    // Of two with one name the last counts.
    const at = heading.lastIndexOf(name);
    return (row) => row[at] ?? '';
  });
  const rows: T[] = [];
  const skipped = createSkippedRows(file);
  for (const [i, row] of cells.entries()) {
    const value = read(row);
    if (typeof value === 'string') skipped.add(i + 2, value);
    else rows.push(value);
  }
  return { heading, rows, notices: skipped.notices(cells.length) };
}

/**
 * The readings of a package. A value that is not a number becomes a flagged reading; a row without a time, or of an unknown channel
 * or unit, is left out.
 * @param lines  the raw lines that readings may name
 */
export function readReadings(table: NamedText, lines: RawLine[]): TableRows<Reading> {
  const rawOf = new Map(lines.map((line) => [line.seq, line.raw]));
  let unknownLines = 0;
  const read = readRows(table, (column) => {
    const [timeOf, channelOf, valueOf] = [column('elapsed_s'), column('channel'), column('value')];
    const [unitOf, lineOf, flagOf, ownRawOf] = [column('unit'), column('line'), column('flag'), column('raw')];
    return (row): Reading | string => {
      const elapsedS = parseNumber(timeOf(row));
      if (Number.isNaN(elapsedS)) return noTime(timeOf(row));
      const channel = channelOf(row);
      const role = roles.find((known) => known === channel);
      if (!role) return `the channel "${excerpt(channel)}" is not known`;
      const unit = unitOf(row);
      if (!unitFits(role, unit))
        return `${role} is known in ${unitsOfRole[role].join(', ')}, not in "${excerpt(unit)}"`;
      const lineText = lineOf(row);
      const seq = lineText === '' ? Number.NaN : parseNumber(lineText);
      const line = Number.isSafeInteger(seq) ? seq : undefined;
      const named = line === undefined ? undefined : rawOf.get(line);
      if (lineText !== '' && named === undefined) unknownLines += 1;
      const flagText = flagOf(row);
      const known = flagText === '' ? undefined : flags.find((flag) => flag === flagText);
      const value = known ? Number.NaN : parseNumber(valueOf(row));
      const flag: Flag | undefined = known ?? (Number.isNaN(value) ? 'unreadable' : undefined);
      const raw = ownRawOf(row) || (named ?? (flag ? valueOf(row) : ''));
      return { role, unit, elapsedS, value, ...(flag && { flag }), raw, ...(line !== undefined && { line }) };
    };
  });
  if (unknownLines > 0)
    read.notices.push(
      `${table.file}: ${unknownLines} of its readings ${unknownLines === 1 ? 'names' : 'name'} a raw line that is not in the package.`,
    );
  return read;
}

/** The raw lines of a package, each with a unique number. */
export function readLines(table: NamedText): TableRows<RawLine> {
  const known = new Set<number>();
  const reader = (column: (name: string) => Cell) => {
    const [lineOf, timeOf, portOf] = [column('line'), column('elapsed_s'), column('port')];
    const [encodingOf, rawOf] = [column('encoding'), column('raw')];
    return (row: string[]): RawLine | string => {
      const seq = parseNumber(lineOf(row));
      if (!Number.isSafeInteger(seq)) return `line must be a whole number, not "${excerpt(lineOf(row))}"`;
      if (known.has(seq)) return `there is a line ${seq} before it`;
      const elapsedS = parseNumber(timeOf(row));
      if (Number.isNaN(elapsedS)) return noTime(timeOf(row));
      known.add(seq);
      const encoding = encodingOf(row) === 'latin1' ? 'latin1' : 'utf8';
      return { seq, elapsedS, port: portOf(row), raw: rawOf(row), encoding };
    };
  };
  return readRows(table, reader, { verbatim: true });
}

/** The marks of a package. */
export const readMarks = (table: NamedText): TableRows<Mark> =>
  readRows(table, (column) => {
    const [timeOf, kindOf, textOf] = [column('elapsed_s'), column('kind'), column('text')];
    return (row): Mark | string => {
      const elapsedS = parseNumber(timeOf(row));
      if (Number.isNaN(elapsedS)) return noTime(timeOf(row));
      const kind = markKinds.find((known) => known === kindOf(row));
      return kind ? { elapsedS, kind, text: textOf(row) } : `the kind "${excerpt(kindOf(row))}" is not known`;
    };
  });
