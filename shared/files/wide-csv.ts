import type { Capture } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { isPractice } from '../model/practice-mark.ts';
import { type Flag, type Reading, type Role, roles, type Unit, unitFits, unitsOfRole } from '../model/reading.ts';
import { contentId } from './content-id.ts';
import { markLine, readMarks } from './mark-lines.ts';
import { createSkippedRows, noTime, excerpt } from './skipped-rows.ts';
import { readingsFault, tableFault } from './limits.ts';
import { type NamedText, readSetup } from './setup-file.ts';
import { parseNumber, exactText, readTable, writeTable } from './table.ts';
import { readTrialsCsv } from './trials-csv.ts';

interface Column {
  index: number;
  role: Role;
  unit: Unit;
}

/** The text of a cell that means beyond the meter's range. */
export const overload = /^[+-]?(?:o\.?l\.?|over|ovld|overload|-{2,})$/i;
/** The words for on and off, in lower case. */
export const switchStates = new Map([
  ['yes', 1],
  ['true', 1],
  ['on', 1],
  ['no', 0],
  ['false', 0],
  ['off', 0],
]);

/** A comment to every other reader. It holds no separator, so a spreadsheet gives it back without quotes. */
const practiceLine = '# practice: true';

/** The same anywhere in a file, as files are joined, and padded with separators, as spreadsheets do. */
export const practiceLines = /^[\uFEFF \t]*#[ \t]*practice[ \t]*:[ \t]*true[ \t,;]*$/imu;

/** Whether a text begins as a wide CSV does: after comments, with the column elapsed_s. */
export const isWideCsv = (text: string): boolean => /^(?:\s*#.*\n)*\s*"?elapsed_s"?[,;]/u.test(text.slice(0, 10_000));

/**
 * Reads a capture from a wide CSV with its companions. Rows keep their order; cells that are not numbers become
 * flagged readings; unknown columns are left out, with a notice. The comment `# practice: true` marks the capture,
 * and comments `# mark: ...` give its marks.
 * Fails with `file-too-large`, `csv-empty`, `csv-no-elapsed`, `csv-no-channel`, `csv-column-twice`, `setup-invalid`, `trials-invalid`.
 */
export function readWideCsv(input: {
  file: string;
  text: string;
  setup?: NamedText;
  trials?: NamedText;
}): Outcome<{ capture: Capture; notices: string[] }> {
  const { file, text } = input;
  const tooLarge = tableFault(file, text);
  if (tooLarge) return fail(tooLarge);
  const { heading, rows } = readTable(text);
  if (heading.every((name) => name === '')) return fail(fault('csv-empty', { file }));
  if (heading[0] !== 'elapsed_s') return fail(fault('csv-no-elapsed', { file, found: excerpt(heading[0]!) }));
  const duplicate = heading.find((name, i) => name !== '' && heading.indexOf(name) !== i);
  if (duplicate !== undefined) return fail(fault('csv-column-twice', { file, column: excerpt(duplicate) }));
  const { columns, notices } = findColumns(file, heading);
  if (columns.length === 0)
    return fail(fault('csv-no-channel', { file, found: heading.slice(0, 20).map(excerpt).join(', ') }));

  const setup = input.setup ? readSetup(input.setup) : ok({ setup: {}, notices: [] });
  if (!setup.ok) return setup;
  const trials = input.trials ? readTrialsCsv(input.trials) : ok([]);
  if (!trials.ok) return trials;

  const readings: Reading[] = [];
  const untimed = createSkippedRows(file);
  for (const [i, row] of rows.entries()) {
    const tooMany = readingsFault(file, readings.length);
    if (tooMany) return fail(tooMany);
    const elapsedS = parseNumber(row[0] ?? '');
    if (Number.isNaN(elapsedS)) {
      untimed.add(i + 2, noTime(row[0] ?? ''));
      continue;
    }
    for (const { index, role, unit } of columns) {
      const raw = row[index];
      if (raw === undefined || raw.trim() === '') continue;
      readings.push({ role, unit, elapsedS, ...readCell(raw, unit), raw });
    }
  }
  if (readings.length === 0) return fail(fault('csv-empty', { file }));
  notices.push(...untimed.notices(rows.length));
  return ok({
    capture: {
      id: contentId(text, input.setup?.text ?? '', input.trials?.text ?? ''),
      ...(practiceLines.test(text) && { practice: true }),
      meters: [],
      setup: setup.value.setup,
      readings,
      lines: [],
      marks: readMarks(text),
      trials: trials.value,
      notes: [],
    },
    notices: [...notices, ...setup.value.notices],
  });
}

function findColumns(file: string, heading: string[]): { columns: Column[]; notices: string[] } {
  const columns: Column[] = [];
  const notices: string[] = [];
  heading.forEach((name, index) => {
    if (index === 0 || name === '') return;
    const role = roles.find((known) => name.startsWith(`${known}_`));
    const unit = role && name.slice(role.length + 1);
    if (role && unit && unitFits(role, unit)) columns.push({ index, role, unit });
    else if (role)
      notices.push(
        `${file}: the column ${excerpt(name)} was left out; ${role} is known in ${unitsOfRole[role].join(', ')}.`,
      );
    else notices.push(`${file}: the column ${excerpt(name)} is not known and was left out.`);
  });
  return { columns, notices };
}

function readCell(raw: string, unit: Unit): { value: number; flag?: Flag } {
  const text = raw.trim();
  const value = unit === 'on' ? (switchStates.get(text.toLowerCase()) ?? parseNumber(text)) : parseNumber(text);
  if (!Number.isNaN(value)) return { value };
  return { value, flag: overload.test(text) ? 'overload' : 'unreadable' };
}

/**
 * Writes the readings as a wide CSV in the order in which they came: a row for each time, a column for each role and
 * unit. Flagged readings keep the text they were read from, or OL for an overload. Practice says so in the first line, and
 * each mark has a comment of its own: without them an analysis knows neither sweeps nor what was discarded.
 */
export function writeWideCsv(capture: Capture): string {
  const names = new Map<string, number>();
  for (const { role, unit } of capture.readings) {
    const name = `${role}_${unit}`;
    if (!names.has(name)) names.set(name, names.size + 1);
  }
  const rows: string[][] = [];
  let row: string[] = [];
  let last: number | undefined;
  let filled = 0;
  for (const reading of capture.readings) {
    const column = names.get(`${reading.role}_${reading.unit}`)!;
    // Readings of the same time share a row as long as they are in the order of the columns, which is the order of reading.
    if (!Object.is(last, reading.elapsedS) || column <= filled) {
      row = [exactText(reading.elapsedS), ...Array.from(names, () => '')];
      rows.push(row);
      last = reading.elapsedS;
    }
    row[column] = Number.isNaN(reading.value) ? flaggedText(reading) : exactText(reading.value);
    filled = column;
  }
  const table = writeTable(['elapsed_s', ...names.keys()], rows);
  // At the end, so that every reader finds the heading where it was.
  const marks = capture.marks.map((mark) => `${markLine(mark)}\n`).join('');
  return `${isPractice(capture) ? `${practiceLine}\n` : ''}${table}${marks}`;
}

/** Text that reads back as the same flag: never empty, never a number. */
function flaggedText({ flag, raw }: Reading): string {
  const text = raw.replace(/\p{C}/gu, '?').trim();
  if (flag === 'overload') return overload.test(text) ? text : 'OL';
  return text === '' || !Number.isNaN(parseNumber(text)) || overload.test(text) || text.startsWith('#') ? 'Err' : text;
}
