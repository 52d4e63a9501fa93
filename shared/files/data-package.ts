import type { Capture } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { isPractice } from '../model/practice-mark.ts';
import { contentId } from './content-id.ts';
import { entriesFault, tableFault } from './limits.ts';
import { describePackage, headingOf } from './package-descriptor.ts';
import { takeLines, takeMarks, takeReadings } from './package-tables.ts';
import { pathOf, readDescriptor, type Table } from './read-descriptor.ts';
import { readSetup, writeSetup } from './setup-file.ts';
import { numberText, writeTable } from './table.ts';
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
 * program made, `datapackage.json` and `readings.csv` are enough. Rows that cannot be used are told as notices and left out.
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
  const notices: string[] = [];
  const resource = (name: Table) => {
    const found = pathOf(descriptor.value, name);
    const text = textOf(found);
    if (text === undefined && descriptor.value.resources.some((named) => named.name === name))
      notices.push(`${file}: ${found} is named in datapackage.json, but is not in the package.`);
    return { file: `${file}: ${found}`, text: text ?? '', isThere: text !== undefined };
  };
  const readingsFile = resource('readings');
  if (!readingsFile.isThere) return bad('it holds no readings.csv');
  const [linesFile, marksFile] = [resource('lines'), resource('marks')];
  for (const table of [readingsFile, linesFile, marksFile]) {
    const tooMany = tableFault(table.file, table.text);
    if (tooMany) return fail(tooMany);
  }
  const setupFile = resource('setup');
  const setup = setupFile.isThere ? readSetup(setupFile) : ok({ setup: {}, notices: [] });
  if (!setup.ok) return setup;
  const trialsFile = resource('trials');
  const trials = readTrialsCsv(trialsFile);
  if (!trials.ok) return trials;

  const lines = takeLines(linesFile);
  const readings = takeReadings(readingsFile, lines.taken);
  const marks = takeMarks(marksFile);
  if (!['elapsed_s', 'channel', 'value', 'unit'].every((name) => readings.heading.includes(name)))
    return bad('readings.csv must have the columns elapsed_s, channel, value and unit');
  notices.push(...readings.notices, ...lines.notices, ...marks.notices, ...setup.value.notices);
  // A visit that ended before its first line is a capture of our own, and a whole one.
  const leftOut = [...readings.notices, ...lines.notices];
  if (readings.taken.length + lines.taken.length === 0 && (!facts || leftOut.length > 0))
    return bad(leftOut.map((notice) => notice.slice(file.length + 2, -1)).join('; ') || 'it holds no rows of readings');
  const meters = facts?.meters ?? [];
  return ok({
    capture: {
      id: facts?.id ?? id ?? contentId(readingsFile.text, setupFile.text, trialsFile.text),
      ...(facts?.startedAt !== undefined && { startedAt: facts.startedAt }),
      ...(facts?.technician !== undefined && { technician: facts.technician }),
      ...(facts?.interrupted && { interrupted: true }),
      ...(isPractice({ practice: facts?.practice, meters, lines: lines.taken }) && { practice: true }),
      ...(facts?.burner && { burner: facts.burner }),
      meters,
      setup: setup.value.setup,
      readings: readings.taken,
      lines: lines.taken,
      marks: marks.taken,
      trials: trials.value,
      notes: facts?.notes ?? [],
    },
    notices,
  });
}
