import type { Trial } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { type PressureUnit, pressureUnits } from '../model/units.ts';
import { tableFault } from './limits.ts';
import type { NamedText } from './setup-file.ts';
import { parseNumber, exactText, readTable, writeTable } from './table.ts';

const yes = new Set(['yes', 'y', '1', 'true']);
const no = new Set(['no', 'n', '0', 'false']);

/**
 * Reads `pressure_<unit>,spark_delay_s,lit[,time_to_prove_s][,elapsed_s]`. A missing delay is 0.
 * Fails with `file-too-large`, or with `trials-invalid` and the line (counted over the non-blank rows, the heading being 1).
 */
export function readTrialsCsv({ file, text }: NamedText): Outcome<Trial[]> {
  const large = tableFault(file, text);
  if (large) return fail(large);
  const { heading, rows } = readTable(text);
  const invalid = (line: number, problem: string) => fail(fault('trials-invalid', { file, line, problem }));
  if (heading.length === 0) return ok([]);
  const pressures = heading.flatMap((name, column) => {
    const unit = pressureUnits.find((known) => name === `pressure_${known}`);
    return unit ? [{ column, unit }] : [];
  });
  const column = (name: string) => heading.indexOf(name);
  if (pressures.length === 0)
    return invalid(1, `it has no column pressure_<unit>; the units are ${pressureUnits.join(', ')}`);
  if (column('lit') < 0) return invalid(1, 'it has no column lit');

  const trials: Trial[] = [];
  for (const [i, row] of rows.entries()) {
    const cell = (name: string) => row[column(name)]?.trim() ?? '';
    const found = pressures.find((pressure) => (row[pressure.column] ?? '').trim() !== '');
    const pressure = found ? parseNumber(row[found.column]!) : Number.NaN;
    if (!found || Number.isNaN(pressure)) return invalid(i + 2, 'the pressure is not a number');
    const lit = cell('lit').toLowerCase();
    if (!yes.has(lit) && !no.has(lit)) return invalid(i + 2, `lit must be yes or no, not "${cell('lit')}"`);
    const seconds = (name: string) => (cell(name) === '' ? undefined : parseNumber(cell(name)));
    const sparkDelayS = seconds('spark_delay_s') ?? 0;
    const timeToProveS = seconds('time_to_prove_s');
    const elapsedS = seconds('elapsed_s');
    if (!(sparkDelayS >= 0)) return invalid(i + 2, 'spark_delay_s must be seconds, 0 or more');
    if (timeToProveS !== undefined && !(timeToProveS >= 0))
      return invalid(i + 2, 'time_to_prove_s must be seconds, 0 or more');
    if (Number.isNaN(elapsedS)) return invalid(i + 2, 'elapsed_s must be seconds');
    trials.push({
      pressure,
      unit: found.unit,
      sparkDelayS,
      lit: yes.has(lit),
      ...(timeToProveS !== undefined && { timeToProveS }),
      ...(elapsedS !== undefined && { elapsedS }),
    });
  }
  return ok(trials);
}

/** The trials as CSV text; trials in several units have one pressure column for each. */
export function writeTrialsCsv(trials: Trial[]): string {
  const units = [...new Set(trials.map((trial) => trial.unit))];
  const columns: PressureUnit[] = units.length > 0 ? units : ['inH2O'];
  const hasTimes = trials.some((trial) => trial.elapsedS !== undefined);
  const heading = [
    ...columns.map((unit) => `pressure_${unit}`),
    'spark_delay_s',
    'lit',
    'time_to_prove_s',
    ...(hasTimes ? ['elapsed_s'] : []),
  ];
  const rows = trials.map((trial) => [
    ...columns.map((unit) => (unit === trial.unit ? exactText(trial.pressure) : '')),
    exactText(trial.sparkDelayS),
    trial.lit ? 'yes' : 'no',
    exactText(trial.timeToProveS ?? Number.NaN),
    ...(hasTimes ? [exactText(trial.elapsedS ?? Number.NaN)] : []),
  ]);
  return writeTable(heading, rows);
}
