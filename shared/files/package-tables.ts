import { type Mark, markKinds, type RawLine } from '../model/capture.ts';
import { type Flag, flags, type Reading, roles, unitFits, unitsOfRole } from '../model/reading.ts';
import { createSkippedRows, noTime, shown } from './skipped-rows.ts';
import type { NamedText } from './setup-file.ts';
import { numberIn, readTable } from './table.ts';

/** What was taken of a table, and what is said about the rest. */
export interface Taken<T> {
  heading: string[];
  taken: T[];
  notices: string[];
}

/** The cell of a row by the name of its column; nothing when there is none. */
type Cell = (name: string) => string;

/** Takes the rows of a table one by one; `read` gives what a row says, or why it cannot be used. */
function takeRows<T extends object>({ file, text }: NamedText, read: (cell: Cell) => T | string): Taken<T> {
  const { heading, rows } = readTable(text, { exact: true });
  const at = new Map(heading.map((name, i) => [name, i]));
  const taken: T[] = [];
  const leftOut = createSkippedRows(file);
  for (const [i, row] of rows.entries()) {
    const made = read((name) => row[at.get(name) ?? -1] ?? '');
    if (typeof made === 'string') leftOut.add(i + 2, made);
    else taken.push(made);
  }
  return { heading, taken, notices: leftOut.notices(rows.length) };
}

/**
 * The readings of a package. A value that is no number is kept as a flagged reading; a row without a time, or of a channel or unit
 * that is not known, is left out.
 * @param lines  the raw lines they may name
 */
export function takeReadings(table: NamedText, lines: RawLine[]): Taken<Reading> {
  const rawOf = new Map(lines.map((line) => [line.seq, line.raw]));
  let unknownLines = 0;
  const read = takeRows(table, (cell): Reading | string => {
    const elapsedS = numberIn(cell('elapsed_s'));
    if (Number.isNaN(elapsedS)) return noTime(cell('elapsed_s'));
    const role = roles.find((known) => known === cell('channel'));
    if (!role) return `the channel "${shown(cell('channel'))}" is not known`;
    const unit = cell('unit');
    if (!unitFits(role, unit)) return `${role} is known in ${unitsOfRole[role].join(', ')}, not in "${shown(unit)}"`;
    const seq = numberIn(cell('line'));
    const line = Number.isSafeInteger(seq) ? seq : undefined;
    const named = line === undefined ? undefined : rawOf.get(line);
    if (cell('line') !== '' && named === undefined) unknownLines += 1;
    const known = flags.find((flag) => flag === cell('flag'));
    const value = known ? Number.NaN : numberIn(cell('value'));
    const flag: Flag | undefined = known ?? (Number.isNaN(value) ? 'unreadable' : undefined);
    const raw = cell('raw') || (named ?? (flag ? cell('value') : ''));
    return { role, unit, elapsedS, value, ...(flag && { flag }), raw, ...(line !== undefined && { line }) };
  });
  if (unknownLines > 0)
    read.notices.push(
      `${table.file}: ${unknownLines} of its readings ${unknownLines === 1 ? 'names' : 'name'} a raw line that is not in the package.`,
    );
  return read;
}

/** The raw lines of a package, each with a number of its own. */
export function takeLines(table: NamedText): Taken<RawLine> {
  const known = new Set<number>();
  return takeRows(table, (cell): RawLine | string => {
    const seq = numberIn(cell('line'));
    if (!Number.isSafeInteger(seq)) return `line must be a whole number, not "${shown(cell('line'))}"`;
    if (known.has(seq)) return `there is a line ${seq} before it`;
    const elapsedS = numberIn(cell('elapsed_s'));
    if (Number.isNaN(elapsedS)) return noTime(cell('elapsed_s'));
    known.add(seq);
    const encoding = cell('encoding') === 'latin1' ? 'latin1' : 'utf8';
    return { seq, elapsedS, port: cell('port'), raw: cell('raw'), encoding };
  });
}

/** The marks of a package. */
export const takeMarks = (table: NamedText): Taken<Mark> =>
  takeRows(table, (cell): Mark | string => {
    const elapsedS = numberIn(cell('elapsed_s'));
    if (Number.isNaN(elapsedS)) return noTime(cell('elapsed_s'));
    const kind = markKinds.find((known) => known === cell('kind'));
    return kind ? { elapsedS, kind, text: cell('text') } : `the kind "${shown(cell('kind'))}" is not known`;
  });
