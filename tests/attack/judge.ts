import { relative } from 'node:path';
import type { Attack } from './attacks.ts';

/** The part of vitest's JSON report that is used. */
export interface TestReport {
  testResults: {
    name: string;
    status: string;
    assertionResults: { fullName: string; status: string; duration?: number | null }[];
  }[];
}

export interface Verdict extends Attack {
  /** An attack that no test tried, whose test did not run to its end or was skipped, has not been held. */
  held: boolean;
  /** How many tests tried it. */
  times: number;
  seconds: number;
}

/** What became of an attack, by a report whose files are named below `root`. */
export function judge(attack: Attack, { testResults }: TestReport, root: string): Verdict {
  const isOf = (file: string) => file === attack.tests || file.startsWith(`${attack.tests}/`);
  const ran = testResults.filter(({ name }) => isOf(relative(root, name).replaceAll('\\', '/')));
  const tests = ran.flatMap((file) =>
    file.assertionResults.filter(({ fullName }) => !attack.titled || attack.titled.test(fullName)),
  );
  const isLoaded = ran.every(({ status, assertionResults }) => status === 'passed' || assertionResults.length > 0);
  return {
    ...attack,
    held: isLoaded && tests.length > 0 && tests.every(({ status }) => status === 'passed'),
    times: tests.length,
    seconds: tests.reduce((sum, { duration }) => sum + (duration ?? 0), 0) / 1000,
  };
}

/** A row for each attack: what was tried, by whom, and whether it was held. */
export function asTable(verdicts: readonly Verdict[]): string {
  const rows = verdicts.map(({ by, tried, times, seconds, held }) => [
    by,
    tried,
    String(times),
    seconds.toFixed(1),
    held ? 'held' : times === 0 ? 'NOT TRIED' : 'NOT HELD',
  ]);
  const all = [['by', 'tried', 'tests', 's', ''], ...rows];
  const widths = all[0]!.map((_, column) => Math.max(...all.map((row) => row[column]!.length)));
  const isNumber = (column: number) => column === 2 || column === 3;
  return all
    .map((row) =>
      row
        .map((cell, i) => (isNumber(i) ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}
