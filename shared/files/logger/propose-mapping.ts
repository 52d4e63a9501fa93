import type { Fault } from '../../model/faults.ts';
import { fault } from '../../model/faults.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import { type Role, roles, type Unit, unitFits } from '../../model/reading.ts';
import { type ColumnGuess, exactUnit, guessColumns } from './find-columns.ts';
import { findHeading, type Heading } from './find-heading.ts';
import { findTime, type TimeGuess } from './find-time.ts';
import type { Mapping } from './mapping.ts';
import { type Decimal, findDecimal, readNumeral } from './numbers.ts';
import { type Separator, splitRows } from './split-rows.ts';

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

/** How a file would be read. What is not certain is in `faults`, each with the key of the mapping that settles it. */
export interface Proposal {
  separator: Separator;
  heading: Heading;
  rows: string[][];
  decimal: Decimal;
  time?: TimeGuess;
  columns: MappedColumn[];
  /** Headings of columns that are left out. */
  others: string[];
  faults: Fault[];
}

/**
 * Proposes how a logger's file is read, from its text or its first rows: guesses each with what speaks for it, and as faults what is
 * ambiguous. Nothing ambiguous is guessed.
 * Fails where there is no table at all, with what `splitRows` fails with or `map-unclear`.
 */
export function proposeMapping(file: string, text: string, given: Mapping = {}): Outcome<Proposal> {
  const unclear = (problem: string, key: string) => fault('map-unclear', { file, problem, key });
  const body = given.skipLines === undefined ? text : text.split('\n').slice(given.skipLines).join('\n');
  const split = splitRows(file, body, given.separator);
  if (!split.ok) return split;
  const { separator, rows: all } = split.value;
  const heading = findHeading(all, given.skipLines === undefined ? undefined : 0);
  if (!heading) return fail(unclear('no heading with rows of readings below it was found', 'skipLines'));
  const rows = all.slice(heading.firstRow);
  const faults: Fault[] = [];
  const usual = usualCells(rows);
  const named = heading.names.findLastIndex(Boolean) + 1;
  if (usual.filled > heading.names.length)
    faults.push(
      unclear('its rows have more cells than its heading; the separator may also be the decimal sign', 'separator'),
    );
  else if (usual.widest < named)
    faults.push(unclear(`its heading names ${named} columns, but its rows have ${usual.widest}`, 'skipLines'));

  const guesses = guessColumns(heading.names, heading.units);
  const numbers = function* () {
    for (const row of rows)
      for (const cell of row) if (/^[+-]?[\d.,]+(?:e[+-]?\d+)?(?:\s*[^\d\s:/.-][^:]*)?$/iu.test(cell)) yield cell;
  };
  const found = findDecimal(numbers());
  if (given.decimal === undefined && found === 'both')
    faults.push(unclear('its numbers have both points and commas', 'decimal'));
  // A comma between cells leaves the point for the decimals.
  if (given.decimal === undefined && found === 'open' && separator !== ',')
    faults.push(
      fault('map-ambiguous', {
        file,
        what: 'the mark in its numbers',
        candidates: 'the decimal sign or a mark between thousands',
        key: 'decimal',
      }),
    );
  const decimal = given.decimal ?? (found === ',' ? ',' : '.');
  const time = findTime(file, { ...heading, rows, decimal }, given.time);
  if ('code' in time) faults.push(time);
  const taken = new Set('code' in time ? [] : [time.column, time.dateColumn]);
  const free = guesses.filter(({ index }) => !taken.has(index));
  const wanted = given.columns ? givenColumns(file, free, given.columns, faults) : guessedColumns(file, free, faults);
  const columns = wanted.flatMap((guess) => {
    const unit = withUnit(guess, rows, decimal);
    if (unit) return [unit];
    const has =
      guess.unitText === undefined
        ? 'has no unit'
        : exactUnit(guess.unitText)
          ? `has the unit "${guess.unitText}", which does not fit ${guess.role}`
          : `has the unit "${guess.unitText}", which is not known here`;
    faults.push(unclear(`the column "${guess.name}" ${has}`, 'columns'));
    return [];
  });
  const read = new Set(columns.map(({ index }) => index));
  return ok({
    separator,
    heading,
    rows,
    decimal,
    ...(!('code' in time) && { time }),
    columns,
    others: free.flatMap(({ index, name }) => (read.has(index) || name === '' ? [] : [name])),
    faults,
  });
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

function givenColumns(
  file: string,
  free: ColumnGuess[],
  columns: NonNullable<Mapping['columns']>,
  faults: Fault[],
): ColumnGuess[] {
  return columns.flatMap(({ column, role, unit }) => {
    const named = free.filter(({ name }) => name === column);
    const guess = named[0];
    const invalid = (problem: string) => {
      faults.push(fault('map-unclear', { file, problem, key: 'columns' }));
      return [];
    };
    if (named.length > 1) return invalid(`it has two columns "${column}"`);
    if (!guess)
      return invalid(`it has no column "${column}"; its columns are ${free.map(({ name }) => name).join(', ')}`);
    const base = { index: guess.index, name: guess.name, role, because: 'the map says so' };
    if (unit === undefined) return [{ ...guess, ...base }];
    const own = unitFits(role, unit) ? { unit, factor: 1 } : exactUnit(unit);
    if (!own || !unitFits(role, own.unit)) return invalid(`"${unit}" is no unit of ${role}`);
    // The heading may leave the unit open, but not contradict it; a plain inH2O is any of the water columns.
    const differs =
      guess.unitText !== undefined &&
      !(
        guess.unit &&
        guess.unit.factor === own.factor &&
        (guess.unit.unit === own.unit || (guess.unit.unit === 'inH2O' && own.unit.startsWith('inH2O')))
      );
    if (differs)
      return invalid(`the column "${column}" is in "${guess.unitText}" by its heading, but in ${unit} by the map`);
    return [{ ...base, unit: own, unitText: unit }];
  });
}

function guessedColumns(file: string, free: ColumnGuess[], faults: Fault[]): ColumnGuess[] {
  return roles.flatMap((role) => {
    const candidates = free.filter((guess) => guess.role === role);
    const named = candidates.filter(({ name }) => /pilot/iu.test(name));
    const one = role === 'pilot_pressure' && candidates.length > 1 && named.length === 1 ? named : candidates;
    if (one.length > 1)
      faults.push(
        fault('map-ambiguous', {
          file,
          what: role,
          candidates: one.map(({ name }) => `"${name}"`).join(' or '),
          key: 'columns',
        }),
      );
    else if (one.length === 0 && (role === 'pilot_pressure' || role === 'flame_signal'))
      faults.push(
        fault('map-unclear', {
          file,
          problem: `none of its columns is known to be ${role}: ${free.map(({ name }) => `"${name}"`).join(', ')}`,
          key: 'columns',
        }),
      );
    return one.length === 1 ? one : [];
  });
}

/** The column with its unit: that of the heading, or the one behind every number of the column. */
function withUnit(guess: ColumnGuess, rows: string[][], decimal: Decimal): MappedColumn | undefined {
  const { index, name, role, because } = guess;
  let { unit, unitText } = guess;
  if (unit === undefined && unitText === undefined) {
    const behind = new Set(rows.flatMap((row) => readNumeral(row[index] ?? '', decimal)?.rest ?? []));
    unitText = behind.size === 1 ? [...behind][0]! : '';
    unit = unitText === '' ? undefined : exactUnit(unitText);
  }
  if (!unit || !role || !unitFits(role, unit.unit)) return undefined;
  return { index, name, role, unit: unit.unit, factor: unit.factor, unitText: unitText ?? unit.unit, because };
}
