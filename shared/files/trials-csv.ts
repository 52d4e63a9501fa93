import { purgeSources, Trial, trialSources, trialStatuses } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { convertPressure, type PressureUnit, pressureUnits } from '../model/units.ts';
import { tableFault } from './limits.ts';
import type { NamedText } from './setup-file.ts';
import { parseNumber, exactText, readTable, writeTable } from './table.ts';

const yes = new Set(['yes', 'y', '1', 'true']);
const no = new Set(['no', 'n', '0', 'false']);

/** Columns of seconds, 0 or more, and of words from a list, with the keys of `Trial` that they fill. */
const secondsColumns = {
  spark_delay_s: 'sparkDelayS',
  time_to_prove_s: 'timeToProveS',
  time_to_prove_from_spark_s: 'timeToProveFromSparkS',
  purge_s: 'purgeS',
} as const;
const wordColumns = {
  known_by: { key: 'knownBy', words: trialSources },
  status: { key: 'status', words: trialStatuses },
  purge_by: { key: 'purgeBy', words: purgeSources },
} as const;
const textColumns = ['reason', 'note'] as const;
const otherPressures = { pressure_before: 'pressureBefore', pressure_after: 'pressureAfter' } as const;

/** A row whose cells are found by the name of their column; empty where there is none. */
interface Row {
  /** The number of the trial, from 1. */
  number: number;
  cell(name: string): string;
  /** The cell of the first filled column `<name>_<unit>`. */
  pressure(name: string): { value: number; unit: PressureUnit } | undefined;
}

/**
 * Reads `pressure_<unit>,spark_delay_s,lit` and the other columns that `writeTrialsCsv` may write. An empty cell or a missing column means
 * that it is not known; without a spark delay nobody knows when the spark came. `corrects` counts the rows from 1.
 *
 * Fails with `file-too-large`, or with `trials-invalid` and the line (counted over the non-blank rows, the heading being 1).
 *
 * @param options.exact  for a table of our own: line breaks inside a text are kept as they are, and `#` begins no comment
 */
export function readTrialsCsv({ file, text }: NamedText, options: { exact?: boolean } = {}): Outcome<Trial[]> {
  const large = tableFault(file, text);
  if (large) return fail(large);
  const { heading, rows } = readTable(text, options);
  const invalid = (line: number, problem: string) => fail(fault('trials-invalid', { file, line, problem }));
  if (heading.length === 0) return ok([]);
  if (!pressureUnits.some((unit) => heading.includes(`pressure_${unit}`)))
    return invalid(1, `it has no column pressure_<unit>; the units are ${pressureUnits.join(', ')}`);
  if (!heading.includes('lit')) return invalid(1, 'it has no column lit');

  const trials: Trial[] = [];
  for (const [i, cells] of rows.entries()) {
    const cell = (name: string) => cells[heading.indexOf(name)] ?? '';
    const pressure = (name: string) => {
      const unit = pressureUnits.find((known) => cell(`${name}_${known}`).trim() !== '');
      return unit && { value: parseNumber(cell(`${name}_${unit}`)), unit };
    };
    const trial = readRow({ number: i + 1, cell, pressure });
    if (typeof trial === 'string') return invalid(i + 2, trial);
    trials.push(trial);
  }
  return ok(trials);
}

/** The trial of a row, or why it cannot be used. */
function readRow({ number, cell, pressure }: Row): Trial | string {
  const found = pressure('pressure');
  if (!found || Number.isNaN(found.value)) return 'the pressure is not a number';
  const lit = cell('lit').trim().toLowerCase();
  if (!yes.has(lit) && !no.has(lit)) return `lit must be yes or no, not "${cell('lit').trim()}"`;
  const trial: Trial = { pressure: found.value, unit: found.unit, lit: yes.has(lit) };

  for (const [name, key] of Object.entries(secondsColumns)) {
    if (cell(name).trim() === '') continue;
    const value = parseNumber(cell(name));
    if (!(value >= 0)) return `${name} must be seconds, 0 or more`;
    trial[key] = value;
  }
  if (cell('elapsed_s').trim() !== '') trial.elapsedS = parseNumber(cell('elapsed_s'));
  if (Number.isNaN(trial.elapsedS)) return 'elapsed_s must be seconds';
  for (const [name, { key, words }] of Object.entries(wordColumns)) {
    const word = cell(name).trim().toLowerCase();
    if (word === '') continue;
    if (!words.some((known) => known === word)) return `${name} must be one of ${words.join(', ')}, not "${word}"`;
    Object.assign(trial, { [key]: word });
  }
  if (cell('corrects').trim() !== '') {
    const corrects = parseNumber(cell('corrects'));
    if (!Number.isInteger(corrects) || corrects < 1 || corrects >= number)
      return 'corrects must be the number of an earlier trial; the first one is 1';
    trial.corrects = corrects;
  }
  for (const [name, key] of Object.entries(otherPressures)) {
    const other = pressure(name);
    if (!other) continue;
    if (Number.isNaN(other.value)) return `${name}_${other.unit} is not a number`;
    trial[key] = convertPressure(other.value, other.unit, found.unit);
  }
  for (const name of textColumns) if (cell(name) !== '') trial[name] = cell(name);
  const checked = Trial.safeParse(trial);
  return checked.success ? trial : `${checked.error.issues[0]?.path.join('.')}: ${checked.error.issues[0]?.message}`;
}

/**
 * The trials as CSV text; trials in several units have one pressure column for each. The first columns are always written, the others
 * when a trial needs them.
 */
export function writeTrialsCsv(trials: readonly Trial[]): string {
  const units = [...new Set(trials.map(({ unit }) => unit))];
  const number = (value: number | undefined) => exactText(value ?? Number.NaN);
  const inUnits = (name: string, valueOf: (trial: Trial) => number | undefined): Column[] =>
    (units.length > 0 ? units : ['inH2O' as const]).map((unit) => ({
      name: `${name}_${unit}`,
      cell: (trial) => (unit === trial.unit ? number(valueOf(trial)) : ''),
    }));
  const always: Column[] = [
    ...inUnits('pressure', ({ pressure }) => pressure),
    { name: 'spark_delay_s', cell: ({ sparkDelayS }) => number(sparkDelayS) },
    { name: 'lit', cell: ({ lit }) => (lit ? 'yes' : 'no') },
    { name: 'time_to_prove_s', cell: ({ timeToProveS }) => number(timeToProveS) },
  ];
  const whenUsed: Column[] = [
    { name: 'elapsed_s', cell: ({ elapsedS }) => number(elapsedS) },
    { name: 'time_to_prove_from_spark_s', cell: ({ timeToProveFromSparkS }) => number(timeToProveFromSparkS) },
    { name: 'known_by', cell: ({ knownBy }) => knownBy ?? '' },
    { name: 'status', cell: ({ status }) => status ?? '' },
    { name: 'corrects', cell: ({ corrects }) => number(corrects) },
    { name: 'reason', cell: ({ reason }) => reason ?? '' },
    { name: 'purge_s', cell: ({ purgeS }) => number(purgeS) },
    { name: 'purge_by', cell: ({ purgeBy }) => purgeBy ?? '' },
    ...inUnits('pressure_before', ({ pressureBefore }) => pressureBefore),
    ...inUnits('pressure_after', ({ pressureAfter }) => pressureAfter),
    { name: 'note', cell: ({ note }) => note ?? '' },
  ];
  const columns = [...always, ...whenUsed.filter(({ cell }) => trials.some((trial) => cell(trial) !== ''))];
  return writeTable(
    columns.map(({ name }) => name),
    trials.map((trial) => columns.map(({ cell }) => cell(trial))),
  );
}

interface Column {
  name: string;
  cell(trial: Trial): string;
}
