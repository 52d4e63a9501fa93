import { columnName, type Mapping } from '../../../model/logger/mapping.ts';
import type { ColumnUse, MappingPreview, PreviewColumn } from '../../../model/logger/preview.ts';
import { ok, type Outcome } from '../../../model/outcome.ts';
import { unitsOfRole } from '../../../model/reading.ts';
import { decodeText } from '../decode-text.ts';
import { firstTimeText } from '../time/find-time.ts';
import { proposeMapping, timeHeading, type Proposal, timePlace } from '../propose-mapping.ts';
import { curvesOf } from './preview-curves.ts';
import { headingQuestion, inWords, listed, questionsOf, separatorQuestion } from './questions.ts';
import { readRows } from '../read-rows.ts';
import { taken } from '../taken.ts';
import { type OffsetAt, startNotices, startOf } from '../time/start-of.ts';
import { usualFormats } from '../time/time-format.ts';

/** What a preview shows at most: enough to see what is what. */
const shown = { lines: 12, rows: 8, columns: 60, characters: 200 };

/** A mapping that is remembered for the heading of a file, and when it was used last, ISO 8601. */
export interface Remembered {
  mapping: Mapping;
  usedAt: string;
}

/**
 * How the file of another logger would be read: its first rows, what is taken for what, what the data leave open, and the curves of
 * what can be read so far. Without `mapping` the one that `recall` gives for its text is tried first, and dropped where it does not fit.
 * Fails with `logger-unreadable`.
 *
 * @param offsetAt  the time zone of the computer, in which times begin where the file gives none
 */
export function previewMapping(
  file: string,
  bytes: Uint8Array,
  mapping: Mapping | undefined,
  recall: (text: string) => Remembered | undefined,
  offsetAt?: OffsetAt,
): Outcome<MappingPreview> {
  const decoded = decodeText(file, bytes);
  if (!decoded.ok) return decoded;
  const { text, encoding } = decoded.value;
  const previewWith = (given: Mapping) => previewOf(file, text, encoding, given, offsetAt);
  const known = mapping === undefined ? recall(text) : undefined;
  if (!known) return ok(previewWith(mapping ?? {}));
  const { usedAt } = known;
  const preview = previewWith(known.mapping);
  const misfit = misfitOf(file, text, known.mapping, preview);
  if (misfit === undefined) return ok({ ...preview, remembered: { usedAt } });
  return ok({ ...previewWith({}), remembered: { usedAt, misfit } });
}

/** Why a remembered mapping is not to be used for this file. */
function misfitOf(file: string, text: string, mapping: Mapping, preview: MappingPreview): string | undefined {
  const proposed = proposeMapping(file, text, { ...mapping, decimal: undefined });
  const found = proposed.ok ? proposed.value.decimalFound : 'none';
  const isOther = found === 'both' || ((found === ',' || found === '.') && found !== (mapping.decimal ?? found));
  if (isOther) return 'Its numbers have another decimal sign.';
  const [question] = preview.questions;
  return preview.problem ?? question?.why ?? question?.ask;
}

function previewOf(
  file: string,
  text: string,
  encoding: string,
  mapping: Mapping,
  offsetAt: OffsetAt | undefined,
): MappingPreview {
  const base = { mapping, lines: firstLines(text), curves: [], notices: [] };
  const proposed = proposeMapping(file, text, mapping);
  if (!proposed.ok) {
    const why = inWords(proposed.fault);
    const key = proposed.fault.facts?.['key'];
    if (key === 'separator') return { ...base, questions: [separatorQuestion(why)] };
    if (key === 'skipLines') return { ...base, questions: [headingQuestion(why, mapping)] };
    return { ...base, questions: [], problem: why };
  }
  const proposal = proposed.value;
  const questions = questionsOf(proposal, mapping);
  const table = tableOf(text, proposal, mapping);
  const read = proposal.time && proposal.columns.length > 0 ? readRows(file, proposal) : undefined;
  if (questions.length > 0 || !read)
    return { ...base, questions, table, curves: read?.ok ? curvesOf(read.value.readings) : [] };
  if (!read.ok) return { ...base, questions, table, problem: inWords(read.fault) };
  const { readings, first, notices } = read.value;
  const start = proposal.time && startOf(first, proposal.time, timeHeading(proposal), offsetAt);
  return {
    ...base,
    questions,
    table,
    curves: curvesOf(readings),
    taken: taken(file, encoding, proposal, start),
    ...(start && { start }),
    notices: [...startNotices(file, start), ...notices],
  };
}

const firstLines = (text: string): string[] =>
  text.split('\n', shown.lines).map((line) => line.slice(0, shown.characters));

function tableOf(text: string, proposal: Proposal, mapping: Mapping): NonNullable<MappingPreview['table']> {
  const { heading, rows, separator, decimal, time } = proposal;
  const { names } = heading;
  const headingRows = heading.units.length > 0 ? 2 : 1;
  // Those that are read are shown wherever they stand.
  const all = names.map((_, index) => columnOf(proposal, index));
  const places = [...all.keys()].filter((index) => index < shown.columns || all[index]!.use !== 'none');
  return {
    separator,
    decimal,
    linesBefore: mapping.skipLines ?? lineOfRow(text, Math.max(0, heading.firstRow - headingRows)),
    ...(time && { timeFormat: time.format }),
    timeFormats: timeFormats(proposal, mapping),
    columns: places.map((index) => all[index]!),
    furtherColumns: names.length - places.length,
    rows: rows.slice(0, shown.rows).map((row) => places.map((index) => (row[index] ?? '').slice(0, shown.characters))),
    rowCount: rows.length,
  };
}

/** How many lines stand before the row of this number, both from 0; rows are the lines that are not blank. */
function lineOfRow(text: string, row: number): number {
  let left = row;
  for (const [line, content] of text.split('\n', 100_000).entries()) {
    if (content.trim() === '') continue;
    if (left === 0) return line;
    left -= 1;
  }
  return 0;
}

function columnOf(proposal: Proposal, index: number): PreviewColumn {
  const { heading, columns, guesses } = proposal;
  const id = columnName(heading.names, index);
  const mapped = columns.find((column) => column.index === index);
  const role = listed(proposal).find(({ column }) => column === id)?.role;
  const time = timePlace(proposal);
  const use: ColumnUse = role ?? (time?.column === index ? 'time' : time?.dateColumn === index ? 'date' : 'none');
  const written = guesses.find((guess) => guess.index === index)?.written ?? [];
  const below = heading.units[index];
  const unit = mapped?.unitText;
  const choices =
    written.length > 0 ? written.flatMap(({ text, size }) => (size ? [text] : [])) : role ? [...unitsOfRole[role]] : [];
  return {
    id,
    heading: (heading.names[index] ?? '').slice(0, shown.characters),
    ...(below && { below }),
    use,
    ...(unit !== undefined && { unit }),
    units: unit === undefined || choices.includes(unit) ? choices : [unit, ...choices],
  };
}

/** The formats in which the first time can be read, and the one that is used. */
function timeFormats(proposal: Proposal, mapping: Mapping): string[] {
  const place = timePlace(proposal);
  const text = place ? firstTimeText(proposal.rows, place) : '';
  const isNumber = /^[+-]?[\d.,]+$/u.test(text.trim());
  const usual = isNumber ? ['s', 'ms', 'min', 'h'] : [];
  const reading = usualFormats.filter((format) => !Number.isNaN(format.read(text))).map(({ format }) => format);
  return [...new Set([...usual, ...reading, proposal.time?.format ?? mapping.time?.format ?? []].flat())];
}
