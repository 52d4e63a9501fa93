import { join } from 'node:path';
import type { BenchmarkOptions, Section, SectionResult } from '../section.ts';
import { table } from '../table.ts';
import { startMeters, runProcess } from './ports.ts';
import type { Recorded } from './record-process.ts';

const perSecond = 1000;
const seconds = 60;
const wantedP99Ms = 50;

/** Two fast meters on pseudo-terminals through the real host, each a process of its own. */
export const steady: Section = {
  name: 'capture',
  title: `Capture: two meters of ${perSecond} lines a second for ${seconds} s, one line in fifty junk, through the whole host`,
  run,
};

async function run({ progress }: BenchmarkOptions): Promise<SectionResult> {
  progress(`${seconds} s of recording`);
  const lines = perSecond * seconds;
  const meters = await startMeters(2, lines, perSecond);
  try {
    const found = await runProcess<Recorded>('record-process.ts', [
      join(meters.folder, 'store'),
      meters.go,
      String(lines),
      ...meters.ports,
    ]);
    const sum = (of: 'lost' | 'changed' | 'outOfOrder') => found.ports.reduce((total, port) => total + port[of], 0);
    const { p50, p99, max } = found.eventLoopMs;
    return {
      lines: [
        ...table([
          ['port', 'sent', 'lost', 'changed', 'out of order'],
          ...found.ports.map((port, i) => [
            String(i + 1),
            ...[port.sent, port.lost, port.changed, port.outOfOrder].map(String),
          ]),
        ]),
        '',
        `Event loop of the recording process: ${p50.toFixed(1)} ms median, ${p99.toFixed(1)} ms p99, ${max.toFixed(0)} ms at most. ` +
          `Processor: ${((100 * found.cpuSeconds) / found.seconds).toFixed(0)} % of one.`,
      ],
      data: { ...found },
      figures: [
        { what: `lines lost of ${2 * lines}`, wanted: 'none', found: String(sum('lost')), met: sum('lost') === 0 },
        {
          what: 'lines changed, doubled or out of order',
          wanted: 'none',
          found: String(sum('changed') + sum('outOfOrder')),
          met: sum('changed') + sum('outOfOrder') === 0,
        },
        {
          what: 'event loop delay, p99',
          wanted: `under ${wantedP99Ms} ms`,
          found: `${p99.toFixed(1)} ms`,
          met: p99 < wantedP99Ms,
        },
      ],
    };
  } finally {
    meters.stop();
  }
}
