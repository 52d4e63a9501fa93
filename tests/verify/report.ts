import { columns } from '../../electron/cli/output.ts';
import {
  agrees,
  type Compared,
  type Digits,
  digitsOf,
  isCompared,
  type NotCompared,
  reference,
  type Tolerance,
  type Verdict,
} from './check.ts';

const isNotCompared = (row: Verdict['rows'][number]): row is NotCompared => !isCompared(row);

const formatDigits = (digits: Digits) => (typeof digits === 'number' ? digits.toFixed(1) : digits);

const powerOfTen = (value: number) => value.toExponential(1).replace('.0', '');

const formatTolerance = (tolerance: Tolerance): string => {
  if (tolerance === 'exact') return 'exact';
  if ('printed' in tolerance) return 'as printed';
  return 'relative' in tolerance ? powerOfTen(tolerance.relative) : `${powerOfTen(tolerance.absolute)} abs`;
};

/** The tolerances of a check's rows, each once. */
const tolerances = (verdict: Verdict): string =>
  [...new Set(verdict.rows.filter(isCompared).map((row) => formatTolerance(row.tolerance)))].join(', ');

const result = (verdict: Verdict): string => {
  const compared = verdict.rows.filter(isCompared);
  const failed = compared.filter((row) => !agrees(row)).length;
  return verdict.passed ? 'pass' : `FAIL (${failed} of ${compared.length})`;
};

/** Remarks under the line of a check: what failed, with expected and found value, and what is not compared and why. */
const remarks = (verdict: Verdict): string[] => [
  ...verdict.rows
    .filter((row): row is Compared => isCompared(row) && !agrees(row))
    .map((row) => `${row.quantity}: expected ${row.expected}, found ${row.found}`),
  ...verdict.rows.filter(isNotCompared).map(({ quantity, notCompared }) => `${quantity}: ${notCompared}`),
];

const bySubject = (verdicts: Verdict[]) => Map.groupBy(verdicts, ({ check }) => check.subject);

const explanation = [
  'digits: agreement of the worst value, -log10 of its relative error, at most 15. asked: largest relative error (or absolute, abs).',
  'origin: published = values read from a public copy of the source; from memory = a figure or data of the source as',
  'remembered, then recomputed by another program; computed = by another program only.',
];

/** One line for all checks. */
export function summaryOf(verdicts: Verdict[]): string {
  const values = verdicts.reduce((sum, { rows }) => sum + rows.filter(isCompared).length, 0);
  const failed = verdicts.filter(({ passed }) => !passed).length;
  const starts = verdicts
    .flatMap(({ rows }) => rows.filter(isNotCompared))
    .filter(({ notCompared }) => notCompared.startsWith('not converged'));
  return (
    `${verdicts.length} checks of ${values} values: ${verdicts.length - failed} passed, ${failed} failed. ` +
    `Starts from which the solver said that it did not converge: ${starts.length}.`
  );
}

/** Table for people at a terminal, each subject with its own heading. */
export function asTable(verdicts: Verdict[]): string {
  const parts = [...bySubject(verdicts)].flatMap(([subject, group]) => {
    const head = [subject, 'source', 'origin', 'digits', 'asked', 'result'];
    const rows = group.map((verdict) => [
      verdict.check.name,
      verdict.check.source,
      verdict.check.origin,
      formatDigits(verdict.digits),
      tolerances(verdict),
      result(verdict),
    ]);
    const [first, ...lines] = columns([head, ...rows], [head.indexOf('digits')]);
    const body = group.flatMap((verdict, i) => [lines[i]!, ...remarks(verdict).map((remark) => `    ${remark}`)]);
    return [first!, ...body, ''];
  });
  return [...parts, ...explanation, '', summaryOf(verdicts)].join('\n');
}

/** The same in Markdown, with the functions that are checked and how many values are compared. */
export function asMarkdown(verdicts: Verdict[]): string {
  const line = (row: string[]) => `| ${row.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  const head = ['check', 'of ours', 'source', 'origin', 'values', 'digits', 'asked', 'result'];
  const parts = [...bySubject(verdicts)].flatMap(([subject, group]) => {
    const rows = group.map((verdict) => [
      verdict.check.name,
      verdict.check.of,
      verdict.check.source,
      verdict.check.origin,
      String(verdict.rows.filter(isCompared).length),
      formatDigits(verdict.digits),
      tolerances(verdict),
      result(verdict),
    ]);
    const notes = group.flatMap((verdict) => remarks(verdict).map((remark) => `- ${verdict.check.name}: ${remark}`));
    return [
      `## ${subject}`,
      '',
      line(head),
      line(head.map((name) => (name === 'values' || name === 'digits' ? '---:' : '---'))),
      ...rows.map(line),
      '',
      ...(notes.length > 0 ? [...notes, ''] : []),
    ];
  });
  return [
    '# Checks of the computation against the outside',
    '',
    ...explanation,
    '',
    ...parts,
    summaryOf(verdicts),
  ].join('\n');
}

/** The same as JSON for programs, with every value; NaN as null. */
export function asJson(verdicts: Verdict[]): string {
  const list = verdicts.map(({ check, rows, digits, passed }) => ({
    subject: check.subject,
    name: check.name,
    of: check.of,
    source: check.source,
    origin: check.origin,
    reference: `tests/reference/${check.file}.json`,
    fullSource: reference(check.file).source,
    passed,
    digits,
    values: rows.filter(isCompared).map((row) => ({ ...row, digits: digitsOf(row), passed: agrees(row) })),
    notCompared: rows.filter(isNotCompared),
  }));
  return JSON.stringify(
    { schema: 'pilot-bench/verify@1', passed: verdicts.every(({ passed }) => passed), checks: list },
    null,
    2,
  );
}
