import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BenchmarkOptions, Section, SectionResult } from '../section.ts';
import { table } from '../table.ts';
import type { LongRun } from './long-process.ts';
import { runProcess } from './ports.ts';

const usualHours = 1;
const perSecond = 20;
const growthAllowedMB = 4;

/** Whether a day's recording needs more memory than its first hour. */
export const long: Section = {
  name: 'long',
  title: `Long: simulated hours of two meters of ${perSecond} lines a second, as fast as the host stores them`,
  run,
};

async function run({ progress, hours = usualHours }: BenchmarkOptions): Promise<SectionResult> {
  progress(`${hours} simulated hours`);
  const folder = mkdtempSync(join(tmpdir(), 'pilot-bench-long-'));
  try {
    const found = await runProcess<LongRun>('long-process.ts', [folder, String(hours), String(perSecond)]);
    const [first, , , last] = found.quarters;
    const growth = (last?.usedMB ?? Number.NaN) - (first?.usedMB ?? Number.NaN);
    const sent = Math.round(2 * perSecond * hours * 3600);
    return {
      lines: [
        `${hours} h, ${found.lines} lines in ${found.seconds.toFixed(0)} s; a page that followed was shown ${found.readingsShown} readings.`,
        ...table([
          ['memory, MB', ...found.quarters.map((_, i) => `${i + 1}/4`)],
          ['in use', ...found.quarters.map(({ usedMB }) => usedMB.toFixed(1))],
          ['process', ...found.quarters.map(({ rssMB }) => rssMB.toFixed(0))],
        ]),
      ],
      data: { hours, ...found },
      figures: [
        {
          what: `memory in use after ${hours} simulated hours against after a quarter of them`,
          wanted: `at most ${growthAllowedMB} MB more`,
          found: `${growth.toFixed(2)} MB`,
          met: growth <= growthAllowedMB,
        },
        {
          what: `lines lost of ${sent} in simulated hours`,
          wanted: 'none',
          found: String(sent - found.lines),
          met: sent === found.lines,
        },
      ],
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
