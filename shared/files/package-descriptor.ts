import type { Capture } from '../model/capture.ts';
import { isPractice } from '../model/practice-mark.ts';

/** One column of a table: name, Table Schema type, what it means. */
type Field = { name: string; type: 'number' | 'integer' | 'string' | 'boolean'; description: string };

const fields = {
  readings: [
    { name: 'elapsed_s', type: 'number', description: 'seconds from the start of the capture' },
    { name: 'channel', type: 'string', description: 'what was measured, e.g. pilot_pressure, flame_signal' },
    { name: 'value', type: 'number', description: 'in unit; empty when the reading is flagged' },
    { name: 'unit', type: 'string', description: 'unit of value' },
    {
      name: 'flag',
      type: 'string',
      description: 'why there is no number: overload, unreadable, too-long, unit-unknown',
    },
    { name: 'raw', type: 'string', description: 'the text it was read from, when no line is given' },
    { name: 'line', type: 'integer', description: 'number of the raw line in lines.csv it was read from' },
  ],
  lines: [
    { name: 'line', type: 'integer', description: 'number of the line, ascending' },
    { name: 'elapsed_s', type: 'number', description: 'when it arrived, seconds from the start of the capture' },
    { name: 'port', type: 'string', description: 'port it arrived on' },
    { name: 'encoding', type: 'string', description: 'utf8, or latin1 when the bytes were not valid UTF-8' },
    { name: 'raw', type: 'string', description: 'the line as it came, without its line ending' },
  ],
  marks: [
    { name: 'elapsed_s', type: 'number', description: 'seconds from the start of the capture' },
    { name: 'kind', type: 'string', description: 'what the moment is' },
    { name: 'text', type: 'string', description: 'note' },
  ],
} as const satisfies Record<string, readonly Field[]>;

/** Column names of a table of the package, in order. */
export const headingOf = (table: keyof typeof fields): string[] => fields[table].map((field) => field.name);

/** What the descriptor contains besides the tables. */
export interface PackageFacts {
  id: string;
  startedAt?: string;
  technician?: string;
  interrupted?: true;
  practice?: true;
  burner?: Capture['burner'];
  meters: Capture['meters'];
  notes: Capture['notes'];
}

/** Source of the format: Frictionless Data Package 1.0 and Table Schema 1.0 (specs.frictionlessdata.io). */
export function describePackage(capture: Capture, trialsHeading: string[]): object {
  const facts: PackageFacts = {
    id: capture.id,
    ...(capture.startedAt !== undefined && { startedAt: capture.startedAt }),
    ...(capture.technician !== undefined && { technician: capture.technician }),
    ...(capture.interrupted && { interrupted: true }),
    ...(isPractice(capture) && { practice: true }),
    ...(capture.burner && { burner: capture.burner }),
    meters: capture.meters,
    notes: capture.notes,
  };
  const table = (name: string, columns: readonly Field[]) => ({
    name,
    path: `${name}.csv`,
    profile: 'tabular-data-resource',
    format: 'csv',
    mediatype: 'text/csv',
    encoding: 'utf-8',
    dialect: { delimiter: ',', lineTerminator: '\n', doubleQuote: true, header: true },
    schema: { fields: columns, missingValues: [''] },
  });
  return {
    profile: 'data-package',
    name: 'pilot-bench-capture',
    title: 'Capture of a burner pilot sweep',
    id: capture.id,
    ...(capture.startedAt !== undefined && { created: capture.startedAt }),
    resources: [
      table('readings', fields.readings),
      table('lines', fields.lines),
      table('marks', fields.marks),
      table('trials', trialsHeading.map(trialField)),
      { name: 'setup', path: 'setup.json', format: 'json', mediatype: 'application/json', encoding: 'utf-8' },
    ],
    pilotBench: facts,
  };
}

const trialDescriptions: Record<string, string> = {
  spark_delay_s: 'delay of the spark after the gas, seconds; empty when it is not known when the spark came',
  lit: 'whether the pilot was proved within the trial',
  time_to_prove_s: 'time from the gas until the pilot was proved, seconds',
  elapsed_s: 'when the trial was made, seconds from the start of the capture',
  time_to_prove_from_spark_s: 'time from the spark until the pilot was proved, seconds',
  known_by: 'from what the trial is known: meters, hand, corrected',
  status: 'valid or void; empty: valid. A void row discards the trial that it corrects',
  corrects: 'number of the earlier row that this one replaces; the first row is 1',
  reason: 'why it was corrected, discarded or added afterwards',
  purge_s: 'purge before the trial, seconds',
  purge_by: 'what made sure of the purge: control, hand, air, confirmed',
  note: 'note',
};
const trialTextColumns = new Set(['known_by', 'status', 'reason', 'purge_by', 'note']);

const trialField = (name: string): Field => ({
  name,
  type: name === 'lit' ? 'boolean' : name === 'corrects' ? 'integer' : trialTextColumns.has(name) ? 'string' : 'number',
  ...(name === 'lit' && { trueValues: ['yes'], falseValues: ['no'] }),
  description:
    trialDescriptions[name] ??
    (name.startsWith('pressure_before_')
      ? 'gauge pressure before the gas came on, in the unit of the column name'
      : name.startsWith('pressure_after_')
        ? 'gauge pressure after the gas was shut, in the unit of the column name'
        : 'gauge pressure of the pilot gas at the trial, in the unit of the column name'),
});
