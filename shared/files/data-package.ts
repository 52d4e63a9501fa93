import { type Capture, type Mark, markKinds, type RawLine } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { type Flag, flags, type Reading, roles, unitFits } from '../model/reading.ts';
import { contentId } from './content-id.ts';
import { entriesFault, tableFault } from './limits.ts';
import { describePackage, headingOf } from './package-descriptor.ts';
import { pathOf, readDescriptor, type Table } from './read-descriptor.ts';
import { readSetup, writeSetup } from './setup-file.ts';
import { numberIn, numberText, readTable, writeTable } from './table.ts';
import { readTrialsCsv, writeTrialsCsv } from './trials-csv.ts';

export { pathsInPackage } from './read-descriptor.ts';
export { readZip, writeZip } from './zip.ts';

type Entries = Map<string, Uint8Array>;

/** The capture as the files of a Frictionless Data Package, by path. Every raw line is in it. */
export function writeDataPackage(capture: Capture): Entries {
  const lineOf = new Map(capture.lines.map((line) => [line.seq, line.raw]));
  const readings = capture.readings.map((reading) => {
    const named = reading.line !== undefined && lineOf.get(reading.line) === reading.raw;
    return [
      numberText(reading.elapsedS),
      reading.role,
      numberText(reading.value),
      reading.unit,
      reading.flag ?? '',
      // The text of a line stands in lines.csv, once.
      named ? '' : reading.raw,
      reading.line === undefined ? '' : String(reading.line),
    ];
  });
  const lines = capture.lines.map(({ seq, elapsedS, port, encoding, raw }) => [
    String(seq),
    numberText(elapsedS),
    port,
    encoding,
    raw,
  ]);
  const marks = capture.marks.map(({ elapsedS, kind, text }) => [numberText(elapsedS), kind, text]);
  const trials = writeTrialsCsv(capture.trials);
  const descriptor = describePackage(capture, trials.slice(0, trials.indexOf('\n')).split(','));
  const encoder = new TextEncoder();
  return new Map(
    Object.entries({
      'datapackage.json': `${JSON.stringify(descriptor, undefined, 2)}\n`,
      'readings.csv': writeTable(headingOf('readings'), readings),
      'lines.csv': writeTable(headingOf('lines'), lines),
      'marks.csv': writeTable(headingOf('marks'), marks),
      'trials.csv': trials,
      'setup.json': writeSetup(capture.setup),
    }).map(([path, text]) => [path, encoder.encode(text)]),
  );
}

/**
 * Reads a capture from the files of a data package; they may lie in one folder of a zip. Of a package that another
 * program made, `datapackage.json` and `readings.csv` are enough.
 * Fails with `file-too-large`, `package-invalid`, `setup-invalid`, `trials-invalid`.
 */
export function readDataPackage(input: {
  file: string;
  entries: Entries;
}): Outcome<{ capture: Capture; notices: string[] }> {
  const { file, entries } = input;
  const bad = (problems: string) => fail(fault('package-invalid', { file, problems }));
  const place = [...entries.keys()]
    .filter((path) => path === 'datapackage.json' || path.endsWith('/datapackage.json'))
    .sort((a, b) => a.length - b.length)[0];
  if (place === undefined) return bad('it holds no datapackage.json');
  const large = entriesFault(file, new Map(Array.from(entries, ([path, bytes]) => [path, bytes.length])));
  if (large) return fail(large);
  const folder = place.slice(0, -'datapackage.json'.length);
  const textOf = (path: string): string | undefined => {
    const bytes = entries.get(folder + path);
    return bytes && new TextDecoder().decode(bytes);
  };
  const descriptor = readDescriptor(textOf('datapackage.json') ?? '');
  if (!descriptor.ok) return bad(descriptor.problem);
  const { pilotBench: facts, id } = descriptor.value;
  const resource = (name: Table) => {
    const found = pathOf(descriptor.value, name);
    return { file: `${file}: ${found}`, text: textOf(found) };
  };
  for (const name of ['readings', 'lines', 'marks'] as const) {
    const table = resource(name);
    const large = table.text !== undefined && tableFault(table.file, table.text);
    if (large) return fail(large);
  }

  const readingsFile = resource('readings');
  if (readingsFile.text === undefined) return bad('it holds no readings.csv');
  const setupFile = resource('setup');
  const setup =
    setupFile.text === undefined
      ? ok({ setup: {}, notices: [] })
      : readSetup({ file: setupFile.file, text: setupFile.text });
  if (!setup.ok) return setup;
  const trialsFile = resource('trials');
  const trials =
    trialsFile.text === undefined ? ok([]) : readTrialsCsv({ file: trialsFile.file, text: trialsFile.text });
  if (!trials.ok) return trials;

  const notices = [...setup.value.notices];
  const lines = readLines(resource('lines').text ?? '', notices);
  const readings = readReadings(readingsFile.text, lines, notices);
  if (readings === undefined) return bad('readings.csv must have the columns elapsed_s, channel, value and unit');
  return ok({
    capture: {
      id: facts?.id ?? id ?? contentId(readingsFile.text, setupFile.text ?? '', trialsFile.text ?? ''),
      ...(facts?.startedAt !== undefined && { startedAt: facts.startedAt }),
      ...(facts?.technician !== undefined && { technician: facts.technician }),
      ...(facts?.interrupted && { interrupted: true }),
      ...(facts?.burner && { burner: facts.burner }),
      meters: facts?.meters ?? [],
      setup: setup.value.setup,
      readings,
      lines,
      marks: readMarks(resource('marks').text ?? '', notices),
      trials: trials.value,
      notes: facts?.notes ?? [],
    },
    notices,
  });
}

/** Rows as records by column name. */
function records(text: string): { has: (name: string) => boolean; rows: ((name: string) => string)[] } {
  const { heading, rows } = readTable(text, { exact: true });
  const at = new Map(heading.map((name, i) => [name, i]));
  return { has: (name) => at.has(name), rows: rows.map((row) => (name) => row[at.get(name) ?? -1] ?? '') };
}

function readReadings(text: string, lines: RawLine[], notices: string[]): Reading[] | undefined {
  const { has, rows } = records(text);
  if (!['elapsed_s', 'channel', 'value', 'unit'].every(has)) return undefined;
  const rawOf = new Map(lines.map((line) => [line.seq, line.raw]));
  const readings: Reading[] = [];
  let left = 0;
  for (const cell of rows) {
    const role = roles.find((known) => known === cell('channel'));
    const unit = cell('unit');
    const elapsedS = numberIn(cell('elapsed_s'));
    if (!role || !unitFits(role, unit) || Number.isNaN(elapsedS)) {
      left += 1;
      continue;
    }
    const line = cell('line') === '' ? undefined : numberIn(cell('line'));
    const named = line === undefined ? undefined : rawOf.get(line);
    const known = flags.find((flag) => flag === cell('flag'));
    const value = known ? Number.NaN : numberIn(cell('value'));
    const flag: Flag | undefined = known ?? (Number.isNaN(value) ? 'unreadable' : undefined);
    const raw = cell('raw') === '' && named !== undefined ? named : cell('raw');
    readings.push({ role, unit, elapsedS, value, ...(flag && { flag }), raw, ...(line !== undefined && { line }) });
  }
  if (left > 0) notices.push(`${left} rows of readings.csv have an unknown channel, unit or time and were left out.`);
  return readings;
}

function readLines(text: string, notices: string[]): RawLine[] {
  const lines: RawLine[] = [];
  const { rows } = records(text);
  for (const cell of rows) {
    const seq = numberIn(cell('line'));
    const elapsedS = numberIn(cell('elapsed_s'));
    if (!Number.isInteger(seq) || Number.isNaN(elapsedS)) continue;
    const encoding = cell('encoding') === 'latin1' ? 'latin1' : 'utf8';
    lines.push({ seq, elapsedS, port: cell('port'), raw: cell('raw'), encoding });
  }
  if (lines.length < rows.length) notices.push(`${rows.length - lines.length} rows of lines.csv were left out.`);
  return lines;
}

function readMarks(text: string, notices: string[]): Mark[] {
  const marks: Mark[] = [];
  const { rows } = records(text);
  for (const cell of rows) {
    const kind = markKinds.find((known) => known === cell('kind'));
    const elapsedS = numberIn(cell('elapsed_s'));
    if (kind && !Number.isNaN(elapsedS)) marks.push({ elapsedS, kind, text: cell('text') });
  }
  if (marks.length < rows.length) notices.push(`${rows.length - marks.length} rows of marks.csv were left out.`);
  return marks;
}
