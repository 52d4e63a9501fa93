import { type Mapping, type Separator, separators } from '../../model/logger/mapping.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import type { Role, Unit } from '../../model/reading.ts';
import { givenColumns, guessedColumns, withUnit } from './choose-columns.ts';
import { type ColumnGuess, guessColumns } from './find-columns.ts';
import { findHeading, type Heading } from './find-heading.ts';
import type { TimePlace } from './time/choose-format.ts';
import { findTime, type TimeGuess } from './time/find-time.ts';
import { type Decimal, type DecimalFound, findDecimal } from './numbers.ts';
import { openFaults, type OpenPoint } from './open-points.ts';
import { splitRows } from './split-rows.ts';

/** A column that is read, and how much of `unit` one of the file's own units is. */
export interface MappedColumn {
  index: number;
  name: string;
  role: Role;
  unit: Unit;
  factor: number;
  unitText: string;
  because: string;
}

/** How a file would be read. What is not certain is in `open`. */
export interface Proposal {
  separator: Separator;
  heading: Heading;
  rows: string[][];
  decimal: Decimal;
  /** What the numbers themselves say of it. */
  decimalFound: DecimalFound;
  time?: TimeGuess;
  /** Every column that is not the time, with what its heading says. */
  guesses: ColumnGuess[];
  columns: MappedColumn[];
  open: OpenPoint[];
}

/** Headings of columns that are left out. */
export const leftOut = ({ guesses, columns }: Proposal): string[] =>
  guesses.flatMap(({ index, name }) => (name === '' || columns.some((read) => read.index === index) ? [] : [name]));

/** Where the time stands, also while its format is open. */
export const timePlace = ({ time, open }: Proposal): TimePlace | undefined =>
  time ?? open.find((point) => point.about === 'time-format');

/**
 * Proposes how a logger's file is read, from its text or its first rows: guesses each with what speaks for it, and in `open` what is
 * ambiguous. Nothing ambiguous is guessed.
 * Fails where there is no table at all, with what `splitRows` fails with or `map-unclear`.
 */
export function proposeMapping(file: string, text: string, given: Mapping = {}): Outcome<Proposal> {
  const { unclear, ambiguous } = openFaults(file);
  const body = given.skipLines === undefined ? text : text.split('\n').slice(given.skipLines).join('\n');
  const split = splitRows(file, body, given.separator);
  if (!split.ok) return split;
  const { separator, rows: all } = split.value;
  const heading =
    given.heading === false ? noHeading(all) : findHeading(all, given.skipLines === undefined ? undefined : 0);
  if (!heading) return fail(unclear('no heading with rows of readings below it was found', 'skipLines'));
  const { names } = heading;
  const rows = all.slice(heading.firstRow);
  const open: OpenPoint[] = [];
  const usual = usualCells(rows);
  const named = names.findLastIndex(Boolean) + 1;
  if (usual.filled > names.length) {
    const problem = 'its rows have more cells than its heading; the separator may also be the decimal sign';
    const others = separators.filter((other) => other !== separator);
    open.push({ about: 'separator', separators: others, fault: unclear(problem, 'separator') });
  } else if (usual.widest < named) {
    const problem = `its heading names ${named} columns, but its rows have ${usual.widest}`;
    open.push({ about: 'heading', fault: unclear(problem, 'skipLines') });
  }

  const decimalFound = findDecimal(numbersIn(rows));
  if (given.decimal === undefined && decimalFound === 'both')
    open.push({ about: 'decimal', fault: unclear('its numbers have both points and commas', 'decimal') });
  // A comma between cells leaves the point for the decimals.
  if (given.decimal === undefined && decimalFound === 'open' && separator !== ',') {
    const candidates = 'the decimal sign or a mark between thousands';
    open.push({ about: 'decimal', fault: ambiguous('the mark in its numbers', candidates, 'decimal') });
  }
  const decimal = given.decimal ?? (decimalFound === ',' ? ',' : '.');
  const time = findTime(file, { ...heading, rows, decimal }, given.time);
  if ('fault' in time) open.push(time);
  const place = 'column' in time ? time : undefined;
  const taken = new Set([place?.column, place?.dateColumn]);
  const guesses = guessColumns(names, heading.units).filter(({ index }) => !taken.has(index));
  const wanted = given.columns
    ? givenColumns(file, names, guesses, given.columns, open)
    : guessedColumns(file, guesses, open);
  // In the order of the file, however they were found.
  const columns = wanted
    .toSorted((a, b) => a.index - b.index)
    .flatMap((column): MappedColumn[] => {
      const unit = withUnit(file, column, rows, decimal);
      if ('fault' in unit) {
        open.push(unit);
        return [];
      }
      const { index, name, role, because } = column;
      return [{ index, name, role, because, ...unit.size, unitText: unit.text }];
    });
  return ok({
    separator,
    heading,
    rows,
    decimal,
    decimalFound,
    ...(!('fault' in time) && { time }),
    guesses,
    columns,
    open,
  });
}

/** In place of the heading of a file that has none: as many blank names as its rows have cells. */
const noHeading = (rows: string[][]): Heading => ({
  names: Array.from({ length: usualCells(rows).widest }, () => ''),
  units: [],
  firstRow: 0,
});

function* numbersIn(rows: string[][]): Generator<string> {
  for (const row of rows)
    for (const cell of row) if (/^[+-]?[\d.,]+(?:e[+-]?\d+)?(?:\s*[^\d\s:/.-][^:]*)?$/iu.test(cell)) yield cell;
}

/** How many cells four fifths of the first rows do not exceed: counted to the last that is filled, and all. */
function usualCells(rows: string[][]): { filled: number; widest: number } {
  const head = rows.slice(0, 400);
  const ordered = (counts: number[]) => counts.sort((a, b) => a - b);
  const filled = ordered(head.map((row) => row.findLastIndex(Boolean) + 1));
  const cells = ordered(head.map((row) => row.length));
  // Rows that are damaged do not count, nor those that are shorter because the logger leaves out the blank cells at the end.
  return { filled: filled[Math.floor(filled.length * 0.8)] ?? 0, widest: cells[Math.floor(cells.length * 0.8)] ?? 0 };
}

/** What stands above the times of a file, units included: it may name their time zone. Empty without a heading. */
export function timeHeading({ heading, time }: Proposal): string {
  const at = [time?.dateColumn, time?.column].filter((index) => index !== undefined);
  return at.flatMap((index) => [heading.names[index] ?? '', heading.units?.[index] ?? '']).join(' ');
}
