import { readFileSync } from 'node:fs';

/**
 * How far a found value may lie from the expected one. `printed`: half a unit of the last digit that the source prints,
 * so agreement in more digits cannot be asked.
 */
export type Tolerance = { relative: number } | { absolute: number } | { printed: number } | 'exact';

/**
 * `published`: read from a public copy of the source. `from memory`: a figure or data of the source as remembered, then
 * recomputed by another program. `computed`: made by another program only.
 */
export type Origin = 'published' | 'from memory' | 'computed';

/** One quantity of a check against its value from outside. */
export interface Compared {
  quantity: string;
  expected: number;
  found: number;
  tolerance: Tolerance;
}

/** A quantity that is not compared, and why: the program reports that it has no answer, or it does not compute the figure. */
export interface NotCompared {
  quantity: string;
  notCompared: string;
}

export type Row = Compared | NotCompared;

/** A check of one part of the computation against values from outside. */
export interface Check {
  subject: string;
  name: string;
  /** The functions that are checked. */
  of: string;
  /** Where the expected values come from. */
  source: string;
  origin: Origin;
  /** File of `tests/reference` with data, values, full source and tolerance. */
  file: string;
  run(): Row[];
}

/** The outcome of a check. */
export interface Verdict {
  check: Check;
  rows: Row[];
  /** Worst agreement of its rows. */
  digits: Digits;
  passed: boolean;
}

/** Agreeing digits, -log10 of the relative error, at most 15; a word where digits say nothing. */
export type Digits = number | 'exact' | 'as printed';

/** Whether a row has a value from outside beside the found one. */
export const isCompared = (row: Row): row is Compared => 'found' in row;

/** Relative error; absolute where zero is expected; infinite for NaN. */
function relativeError({ expected, found }: Compared): number {
  const off = Math.abs(found - expected) / (Math.abs(expected) || 1);
  return Number.isNaN(off) ? Infinity : off;
}

/** Whether the found value lies within the tolerance of the expected one; never for NaN. */
export function agrees(row: Compared): boolean {
  const { tolerance } = row;
  if (tolerance === 'exact') return row.found === row.expected;
  if ('relative' in tolerance) return relativeError(row) <= tolerance.relative;
  return Math.abs(row.found - row.expected) <= ('printed' in tolerance ? tolerance.printed : tolerance.absolute);
}

/** How many digits of the found value agree; 0 for NaN. */
export function digitsOf(row: Compared): Digits {
  if (agrees(row)) {
    if (row.tolerance === 'exact') return 'exact';
    if ('printed' in row.tolerance) return 'as printed';
  }
  const error = relativeError(row);
  return error === 0 ? 15 : Math.max(0, Math.min(15, -Math.log10(error)));
}

/** Runs one check. A check without a single compared row is no check. */
export function judge(check: Check): Verdict {
  const rows = check.run();
  const compared = rows.filter(isCompared);
  const digitsOfRows = compared.map(digitsOf);
  const numbers = digitsOfRows.filter((digits) => typeof digits === 'number');
  const digits =
    numbers.length > 0 ? Math.min(...numbers) : digitsOfRows.includes('as printed') ? 'as printed' : 'exact';
  return { check, rows, digits, passed: compared.length > 0 && compared.every(agrees) };
}

/** Rows of two lists of numbers; lists of different length give one failing row instead. */
export function compareLists(
  quantities: string | string[],
  expected: ArrayLike<number>,
  found: ArrayLike<number>,
  tolerance: Tolerance,
): Compared[] {
  const name = (i: number) => (typeof quantities === 'string' ? `${quantities} ${i + 1}` : quantities[i]!);
  if (expected.length !== found.length)
    return [{ quantity: 'how many', expected: expected.length, found: found.length, tolerance: 'exact' }];
  return Array.from(expected, (value, i) => ({ quantity: name(i), expected: value, found: found[i]!, tolerance }));
}

/** Half a unit of the last digit of a figure as printed, e.g. 0.005 for 0.93. */
export const halfUnit = (decimals: number): Tolerance => ({ printed: 0.5 * 10 ** -decimals * (1 + 1e-9) });

/** One file of values from outside, `tests/reference/*.json`. */
export interface Reference<Inputs, Expected> {
  name: string;
  source: string;
  inputs: Inputs;
  expected: Expected;
  tolerance: Record<string, number>;
}

/** Reads `tests/reference/<file>.json`. */
export const reference = <Inputs, Expected>(file: string): Reference<Inputs, Expected> =>
  JSON.parse(readFileSync(new URL(`../reference/${file}.json`, import.meta.url), 'utf8')) as Reference<
    Inputs,
    Expected
  >;
