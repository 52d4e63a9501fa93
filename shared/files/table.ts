import Papa from 'papaparse';

/** A table of text cells with its heading; rows may be shorter than the heading. */
export interface TextTable {
  heading: string[];
  rows: string[][];
}

/**
 * Reads comma- or semicolon-separated text: with or without byte order mark, LF or CRLF; `#` lines are comments, blank lines are
 * ignored. The separator is the one that occurs more often in the heading.
 *
 * @param options.exact     for our own tables: commas, LF, no comments, and line breaks inside cells are kept
 * @param options.verbatim  every cell as it stands, see `guardFormula`
 */
export function readTable(text: string, options: { exact?: boolean; verbatim?: boolean } = {}): TextTable {
  const withoutMark = text.replace(/^\uFEFF/, '');
  const plain = options.exact ? withoutMark : withoutMark.replace(/\r\n?/g, '\n');
  const heading = headingLine(plain);
  const count = (mark: string) => heading.split(mark).length;
  const delimiter = !options.exact && count(';') > count(',') ? ';' : ',';
  const parse = (quoteChar: string) =>
    Papa.parse<string[]>(plain, {
      delimiter,
      quoteChar,
      newline: '\n',
      comments: options.exact ? false : '#',
      skipEmptyLines: options.exact ? true : 'greedy',
    });
  const quoted = parse('"');
  // A quote that is never closed would swallow the rows behind it; then every line is one row, with its quotes.
  const unclosed = !options.exact && quoted.errors.some(({ type }) => type === 'Quotes');
  const data = unclosed
    ? parse('\0').data.map((row) => row.map((cell) => cell.replace(/^"(.*)"$/, '$1')))
    : quoted.data;
  const rows = data.slice(1);
  if (!options.verbatim) for (const row of rows) row.forEach((cell, i) => (row[i] = unguardFormula(cell)));
  return { heading: (data[0] ?? []).map((cell) => cell.trim()), rows };
}

/** The first line that is neither blank nor a comment. A loop, as a regular expression over a million lines overflows the stack. */
function headingLine(text: string): string {
  for (let at = 0; at < text.length;) {
    const end = text.indexOf('\n', at);
    const line = text.slice(at, end < 0 ? undefined : end);
    if (!/^[ \t]*(?:#.*)?$/u.test(line)) return line;
    at = end < 0 ? text.length : end + 1;
  }
  return '';
}

/**
 * Rows as comma-separated text, with LF, quoted where needed.
 *
 * @param options.verbatim  every cell as it is, see `guardFormula`
 */
export function writeTable(
  heading: string[],
  rows: (string | number)[][],
  options: { verbatim?: boolean } = {},
): string {
  const cells = options.verbatim
    ? rows
    : rows.map((row) => row.map((cell) => (typeof cell === 'string' ? guardFormula(cell) : cell)));
  return `${Papa.unparse([heading, ...cells], { newline: '\n' })}\n`;
}

/** What a spreadsheet would run: numbers and what meters print for none (+1.23, -OL, ----) are no formulas. */
const startsFormula = /^(?:[=@\t\r]|[+-].*[^\w.+\- ])/su;

/**
 * Text as a cell that spreadsheets take for text: one that starts a formula gets an apostrophe, as a person would type it.
 * Source: OWASP, "CSV Injection" (common practice of spreadsheets for the apostrophe).
 */
const guardFormula = (text: string): string => (startsFormula.test(text.replace(/^'+/u, '')) ? `'${text}` : text);

/** The text of such a cell. */
const unguardFormula = (cell: string): string =>
  cell.startsWith("'") && startsFormula.test(cell.replace(/^'+/u, '')) ? cell.slice(1) : cell;

const numeral = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?$/i;

/** The number in a cell, with decimal point or comma; NaN when there is none. */
export function parseNumber(cell: string): number {
  const text = cell.trim();
  if (!numeral.test(text)) return Number.NaN;
  const value = Number(text.replace(',', '.'));
  return Number.isFinite(value) ? value : Number.NaN;
}

/** A number as text that reads back as exactly the same number; empty for NaN. */
export const exactText = (value: number): string =>
  Number.isNaN(value) ? '' : Object.is(value, -0) ? '-0' : String(value);
