import type { Capture } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { isPractice } from '../model/practice-mark.ts';
import { contentId } from './content-id.ts';
import { entriesFault, tableFault } from './limits.ts';
import { describePackage, headingOf } from './package-descriptor.ts';
import { readLines, readMarks, readReadings } from './package-tables.ts';
import { pathOf, readDescriptor, type Table } from './read-descriptor.ts';
import { readSetup, writeSetup } from './setup-file.ts';
import { exactText, writeTable } from './table.ts';
import { readTrialsCsv, writeTrialsCsv } from './trials-csv.ts';

export { pathsInPackage } from './read-descriptor.ts';
export { readZip, writeZip } from './zip.ts';

type Entries = Map<string, Uint8Array>;

/** The capture as the files of a Frictionless Data Package, by path; includes every raw line. */
export function writeDataPackage(capture: Capture): Entries {
  const textOfLine = new Map(capture.lines.map((line) => [line.seq, line.raw]));
  const readings = capture.readings.map((reading) => {
    const isInLines = reading.line !== undefined && textOfLine.get(reading.line) === reading.raw;
    return [
      exactText(reading.elapsedS),
      reading.role,
      exactText(reading.value),
      reading.unit,
      reading.flag ?? '',
      // The text of a line is in lines.csv, once.
      isInLines ? '' : reading.raw,
      reading.line === undefined ? '' : String(reading.line),
    ];
  });
  const lines = capture.lines.map(({ seq, elapsedS, port, encoding, raw }) => [
    String(seq),
    exactText(elapsedS),
    port,
    encoding,
    raw,
  ]);
  const marks = capture.marks.map(({ elapsedS, kind, text }) => [exactText(elapsedS), kind, text]);
  const trials = writeTrialsCsv(capture.trials);
  const descriptor = describePackage(capture, trials.slice(0, trials.indexOf('\n')).split(','));
  const encoder = new TextEncoder();
  return new Map(
    Object.entries({
      'datapackage.json': `${JSON.stringify(descriptor, undefined, 2)}\n`,
      'readings.csv': writeTable(headingOf('readings'), readings),
      // What the meters sent, to the last byte.
      'lines.csv': writeTable(headingOf('lines'), lines, { verbatim: true }),
      'marks.csv': writeTable(headingOf('marks'), marks),
      'trials.csv': trials,
      'setup.json': writeSetup(capture.setup),
    }).map(([path, text]) => [path, encoder.encode(text)]),
  );
}

/**
 * Reads a capture from the files of a data package, which may be in one folder of a zip. Of a package that another
 * program made, `datapackage.json` and `readings.csv` are enough. Rows that cannot be used are left out, with a notice.
 * Fails with `file-too-large`, `package-invalid`, `setup-invalid`, `trials-invalid`.
 */
export function readDataPackage(input: {
  file: string;
  entries: Entries;
}): Outcome<{ capture: Capture; notices: string[] }> {
  const { file, entries } = input;
  const invalid = (problems: string) => fail(fault('package-invalid', { file, problems }));
  const descriptorPath = [...entries.keys()]
    .filter((path) => path === 'datapackage.json' || path.endsWith('/datapackage.json'))
    .sort((a, b) => a.length - b.length)[0];
  if (descriptorPath === undefined) return invalid('it contains no datapackage.json');
  const tooLarge = entriesFault(file, new Map(Array.from(entries, ([path, bytes]) => [path, bytes.length])));
  if (tooLarge) return fail(tooLarge);
  const folder = descriptorPath.slice(0, -'datapackage.json'.length);
  const textOf = (path: string): string | undefined => {
    const bytes = entries.get(folder + path);
    return bytes && new TextDecoder().decode(bytes);
  };
  const descriptor = readDescriptor(textOf('datapackage.json') ?? '');
  if (!descriptor.ok) return invalid(descriptor.problem);
  const { pilotBench: facts, id } = descriptor.value;
  const notices: string[] = [];
  const resource = (name: Table) => {
    const path = pathOf(descriptor.value, name);
    const text = textOf(path);
    if (text === undefined && descriptor.value.resources.some((named) => named.name === name))
      notices.push(`${file}: ${path} is named in datapackage.json, but is not in the package.`);
    return { file: `${file}: ${path}`, text: text ?? '', exists: text !== undefined };
  };
  const readingsFile = resource('readings');
  if (!readingsFile.exists) return invalid('it contains no readings.csv');
  const [linesFile, marksFile] = [resource('lines'), resource('marks')];
  for (const table of [readingsFile, linesFile, marksFile]) {
    const tooMany = tableFault(table.file, table.text);
    if (tooMany) return fail(tooMany);
  }
  const setupFile = resource('setup');
  const setup = setupFile.exists ? readSetup(setupFile) : ok({ setup: {}, notices: [] });
  if (!setup.ok) return setup;
  const trialsFile = resource('trials');
  const trials = readTrialsCsv(trialsFile, { exact: facts !== undefined });
  if (!trials.ok) return trials;

  const lines = readLines(linesFile);
  const readings = readReadings(readingsFile, lines.rows);
  const marks = readMarks(marksFile);
  if (!['elapsed_s', 'channel', 'value', 'unit'].every((name) => readings.heading.includes(name)))
    return invalid('readings.csv must have the columns elapsed_s, channel, value and unit');
  notices.push(...readings.notices, ...lines.notices, ...marks.notices, ...setup.value.notices);
  // A package of our own may be empty: its visit ended before the first line.
  const skippedRows = [...readings.notices, ...lines.notices];
  if (readings.rows.length + lines.rows.length === 0 && (!facts || skippedRows.length > 0))
    return invalid(
      skippedRows.map((notice) => notice.slice(file.length + 2, -1)).join('; ') || 'it contains no rows of readings',
    );
  const meters = facts?.meters ?? [];
  return ok({
    capture: {
      id: facts?.id ?? id ?? contentId(readingsFile.text, setupFile.text, trialsFile.text),
      ...(facts?.startedAt !== undefined && { startedAt: facts.startedAt }),
      ...(facts?.technician !== undefined && { technician: facts.technician }),
      ...(facts?.interrupted && { interrupted: true }),
      ...(isPractice({ practice: facts?.practice, meters, lines: lines.rows }) && { practice: true }),
      ...(facts?.burner && { burner: facts.burner }),
      meters,
      setup: setup.value.setup,
      readings: readings.rows,
      lines: lines.rows,
      marks: marks.rows,
      trials: trials.value,
      notes: facts?.notes ?? [],
    },
    notices,
  });
}
