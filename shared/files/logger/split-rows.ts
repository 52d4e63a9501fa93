import Papa from 'papaparse';
import { fault } from '../../model/faults.ts';
import { type Separator, separators } from '../../model/logger/mapping.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';

/** Most columns of a file, as of a wide CSV. */
const mostColumns = 1000;
/** Most lines, as of a wide CSV. */
const mostLines = 5_000_000;

/** As many rows tell the separator; titles before the heading are few beside them. */
const sampleLines = 400;

/**
 * The cells of every line that is not blank, trimmed. A tab or semicolon that is in nearly every line separates; a comma does where
 * neither is, as it may be the decimal sign.
 * Fails with `map-ambiguous` (tabs and semicolons both), `map-unclear` (none of them), `file-too-large`.
 */
export function splitRows(
  file: string,
  text: string,
  given?: Separator,
): Outcome<{ rows: string[][]; separator: Separator }> {
  const lines = text.split('\n', mostLines + 1);
  if (lines.length > mostLines)
    return fail(fault('file-too-large', { file, found: `over ${mostLines} lines`, most: `${mostLines}` }));
  const sample = lines.filter((line) => line.trim() !== '').slice(0, sampleLines);
  const usual = separators.filter((separator) => separates(sample, separator));
  const [tab, semicolon] = [usual.includes('\t'), usual.includes(';')];
  if (given === undefined && tab && semicolon)
    return fail(fault('map-ambiguous', { file, what: 'the separator', candidates: 'a tab or ";"', key: 'separator' }));
  const separator = given ?? usual[0];
  if (separator === undefined)
    return fail(
      fault('map-unclear', { file, problem: 'no tab, semicolon or comma separates its lines', key: 'separator' }),
    );
  const rows: string[][] = [];
  // Line by line: a quote that is never closed spoils one line, not the file.
  for (const line of lines) {
    if (line.trim() === '') continue;
    const cells = cellsOf(line, separator);
    if (cells.length > mostColumns)
      return fail(fault('file-too-large', { file, found: `${cells.length} columns`, most: `${mostColumns}` }));
    rows.push(cells);
  }
  return ok({ rows, separator });
}

const cellsOf = (line: string, separator: Separator): string[] =>
  (line.includes('"')
    ? (Papa.parse<string[]>(line, { delimiter: separator }).data[0] ?? [])
    : line.split(separator)
  ).map((cell) => cell.replace(/[\u00a0\u202f]/gu, ' ').trim());

function separates(lines: string[], separator: Separator): boolean {
  if (lines.length === 0) return false;
  const having = lines.filter((line) => cellsOf(line, separator).length > 1).length;
  // Titles before the heading have none.
  return having >= 3 && having >= lines.length * (lines.length < 40 ? 0.4 : 0.8);
}
