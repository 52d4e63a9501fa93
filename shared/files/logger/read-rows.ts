import { findUnit, toChannelUnit } from '../../instruments/unit-token.ts';
import { fault } from '../../model/faults.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import type { Reading } from '../../model/reading.ts';
import { readingsFault } from '../limits.ts';
import { createSkippedRows, excerpt } from '../skipped-rows.ts';
import { overload, switchStates } from '../wide-csv.ts';
import { elapsedTimes } from './time/elapsed-times.ts';
import { timeText } from './time/find-time.ts';
import { type FirstTime, hasZone } from './time/start-of.ts';
import { type Decimal, readNumeral } from './numbers.ts';
import { type MappedColumn, type Proposal, timeHeading } from './propose-mapping.ts';

/**
 * The readings of the columns in the order of the file, the time from which they are counted, and sentences about what is left out or is no number. There must be a time.
 * Fails with `csv-empty`, `file-too-large`, `map-unclear` where most of it cannot be used.
 */
export function readRows(
  file: string,
  proposal: Proposal,
): Outcome<{ readings: Reading[]; first: FirstTime | undefined; notices: string[] }> {
  const { rows, columns, decimal } = proposal;
  const time = proposal.time!;
  const texts = rows.map((row) => timeText(row, time));
  const read = texts.map(time.read);
  const times = elapsedTimes(file, read, { ...time, hasZone: hasZone(time.format, timeHeading(proposal)) });
  if (!times.ok) return times;
  const zero = read.findIndex((seconds) => !Number.isNaN(seconds));
  const first = zero < 0 ? undefined : { text: texts[zero]!, seconds: read[zero]! };
  const skipped = createSkippedRows(file);
  const readings: Reading[] = [];
  const flagged = columns.map(() => ({ count: 0, numbers: 0, first: '' }));
  const misplaced = cellCheck(proposal);
  let left = 0;
  for (const [i, row] of rows.entries()) {
    const elapsedS = times.value.elapsedS[i]!;
    if (Number.isNaN(elapsedS)) {
      left += 1;
      skipped.add(i + proposal.heading.firstRow + 1, `"${excerpt(texts[i]!)}" is no time`);
      continue;
    }
    const cells = misplaced(row);
    if (cells !== undefined) {
      left += 1;
      skipped.add(i + proposal.heading.firstRow + 1, cells);
      continue;
    }
    const tooMany = readingsFault(file, readings.length);
    if (tooMany) return fail(tooMany);
    for (const [k, column] of columns.entries()) {
      const raw = row[column.index] ?? '';
      if (raw === '') continue;
      const cell = readCell(raw, column, decimal);
      const tally = flagged[k]!;
      if (cell.flag === undefined) tally.numbers += 1;
      else if ((tally.count += 1) === 1) tally.first = excerpt(raw);
      readings.push({ role: column.role, unit: column.unit, elapsedS, ...cell, raw });
    }
  }
  if (readings.length === 0) return fail(fault('csv-empty', { file }));
  if (left > rows.length / 2)
    return fail(fault('map-unclear', { file, problem: `${left} of ${rows.length} rows cannot be used`, key: 'time' }));
  const notices = [...times.value.notices, ...skipped.notices(rows.length)];
  for (const [k, { count, numbers, first }] of flagged.entries()) {
    const name = excerpt(columns[k]!.name);
    if (count > 0 && count > numbers)
      return fail(
        fault('map-unclear', {
          file,
          problem: `most cells of "${name}" are no numbers, such as "${first}"`,
          key: 'columns',
        }),
      );
    if (count > 0)
      notices.push(
        `${file}: ${count} cells of "${name}" are no numbers and are kept as flagged, the first is "${first}".`,
      );
  }
  return ok({ readings, first, notices });
}

/**
 * Why the cells of a row are not below their headings, so that a signal might be taken for a pressure: there are more than headings, or
 * fewer, unless every tenth row is shorter, as where a logger leaves out the blank cells at the end.
 */
function cellCheck({ rows, heading, columns }: Proposal): (row: string[]) => string | undefined {
  const last = columns.reduce((most, { index }) => Math.max(most, index), 0);
  const short = rows.filter((row) => row.length <= last).length;
  return (row) => {
    if (row.findLastIndex(Boolean) >= heading.names.length) return 'it has more cells than the heading';
    return row.length <= last && short < rows.length / 10 ? 'it has fewer cells than the heading' : undefined;
  };
}

/** A number, which may have a unit of its own behind it; else a flag. */
function readCell(raw: string, column: MappedColumn, decimal: Decimal): Pick<Reading, 'value' | 'flag'> {
  const state = column.unit === 'on' ? switchStates.get(raw.toLowerCase()) : undefined;
  if (state !== undefined) return { value: state };
  const found = readNumeral(raw, decimal);
  if (!found) return { value: Number.NaN, flag: overload.test(raw) ? 'overload' : 'unreadable' };
  if (found.rest === '') return { value: found.value * column.factor };
  const unit = findUnit(found.rest.replaceAll(/\s/gu, ''));
  const value = unit && toChannelUnit(found.value, unit, column.role, column.unit);
  return value === undefined ? { value: Number.NaN, flag: 'unit-unknown' } : { value };
}
