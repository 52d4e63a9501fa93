import fc from 'fast-check';
import { anyLine, inHex, readers } from '../instruments/arbitrary-lines.ts';
import type { Reader } from '../instruments/arbitrary-lines.ts';
import type { BenchmarkOptions, Section, SectionResult } from './section.ts';
import { table } from './table.ts';

/** How many lines are read in all; every format reads the same random ones. */
const wanted = 1_000_000;
const batchSize = 5000;
const batches = Math.ceil(wanted / readers.length / batchSize);
const total = batches * batchSize * readers.length;
const totalText = `${total.toLocaleString('en')} lines`;

export const lines: Section = {
  name: 'lines',
  title: `Lines: any bytes through every line format, ${totalText} in all`,
  run,
};

interface Row {
  format: string;
  lines: number;
  seconds: number;
  failures: number;
  /** The first failure: the line as hex, and what is wrong. */
  example?: string;
}

/** What is wrong, an exception included. */
function faultOf(reader: Reader, line: Uint8Array): string | undefined {
  try {
    return reader.faultIn(line);
  } catch (error) {
    return `it threw ${String(error)}`;
  }
}

async function run({ seed, progress }: BenchmarkOptions): Promise<SectionResult> {
  const rows: Row[] = readers.map(({ name }) => ({ format: name, lines: 0, seconds: 0, failures: 0 }));
  for (let batch = 0; batch < batches; batch += 1) {
    progress(`${batch} of ${batches}`);
    const drawn = fc.sample(anyLine, { numRuns: batchSize, seed: seed + batch });
    for (const [i, reader] of readers.entries()) {
      const row = rows[i]!;
      for (const line of drawn) {
        const fault = faultOf(reader, line);
        if (fault === undefined) continue;
        row.failures += 1;
        row.example ??= `${fault}: ${inHex(line)}`;
      }
      // Timed apart from the checks, which take longer than the reading, and after them, so that an exception has been caught.
      if (row.failures > 0) continue;
      const began = performance.now();
      for (const line of drawn) reader.read(line);
      row.seconds += (performance.now() - began) / 1000;
      row.lines += drawn.length;
    }
  }
  const failures = rows.reduce((sum, row) => sum + row.failures, 0);
  const perSecond = (row: Row) => Math.round(row.lines / row.seconds);
  return {
    lines: [
      ...table([
        ['format', 'lines a second', 'failures'],
        ...rows.map((row) => [row.format, row.lines > 0 ? String(perSecond(row)) : '-', String(row.failures)]),
      ]),
      ...rows.flatMap(({ format, example }) => (example === undefined ? [] : [`${format}: ${example}`])),
    ],
    data: { seed, lines: total, formats: rows.map((row) => ({ ...row, linesPerSecond: perSecond(row) })) },
    figures: [
      {
        what: `${totalText} of random bytes, over ${rows.length} formats`,
        wanted: 'no exception, readings as documented',
        found: `${failures} failures`,
        met: failures === 0,
      },
    ],
  };
}
