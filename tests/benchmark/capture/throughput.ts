import { join } from 'node:path';
import type { BenchmarkOptions, Section, SectionResult } from '../section.ts';
import { median, table } from '../table.ts';
import type { Counted } from './count-process.ts';
import { startMeters, runProcess } from './ports.ts';
import type { Recorded } from './record-process.ts';

const lines = 1_000_000;
const runs = 3;
const wantedRatio = 0.7;
// The fastest of the usual rates of USB serial adapters. A byte takes ten bits, these lines have nine bytes.
const wireBaud = 921_600;
const wireLines = Math.floor(wireBaud / 10 / 9);

/**
 * How fast a pseudo-terminal can be emptied: by the whole host, until every line is safe in the store and until every line is
 * read and published as well, and by `serialport` with its line parser that only counts. The same meter for both; the pseudo-
 * terminal and the processes that feed it cost both the same.
 */
export const throughput: Section = {
  name: 'throughput',
  title: `Throughput: ${lines} lines as fast as a pseudo-terminal gives them, stored by the host against only counted`,
  run,
};

async function run({ progress }: BenchmarkOptions): Promise<SectionResult> {
  const counted: Counted[] = [];
  const recorded: Recorded[] = [];
  for (let k = 1; k <= runs; k += 1) {
    progress(`run ${k} of ${runs}`);
    counted.push(await withMeter((go, port) => runProcess<Counted>('count-process.ts', [go, String(lines), port])));
    recorded.push(
      await withMeter((go, port, folder) =>
        runProcess<Recorded>('record-process.ts', [join(folder, 'store'), go, String(lines), port]),
      ),
    );
  }
  const rates = (seconds: number[]) => seconds.map((one) => lines / one);
  const secondsOf = (all: { seconds: number }[]) => all.map(({ seconds }) => seconds);
  const safe = recorded.map(({ safeSeconds }) => safeSeconds);
  const perLine = (all: { cpuSeconds: number }[]) =>
    median(all.map(({ cpuSeconds }) => (1e6 * cpuSeconds) / lines)).toFixed(1);
  const ours = median(rates(safe));
  const published = median(rates(secondsOf(recorded)));
  const bare = median(rates(secondsOf(counted)));
  const ratio = ours / bare;
  const lost = recorded.reduce((total, { ports }) => total + (ports[0]?.lost ?? 0), 0);
  const row = (what: string, seconds: number[], processor: string) => [
    what,
    median(rates(seconds)).toFixed(0),
    rates(seconds)
      .map((rate) => rate.toFixed(0))
      .join(' '),
    processor,
  ];
  return {
    lines: [
      ...table([
        ['', 'lines a second', 'each run', 'processor, us a line'],
        row('counted', secondsOf(counted), perLine(counted)),
        row('safe in the store', safe, ''),
        row('read, stored, published', secondsOf(recorded), perLine(recorded)),
      ]),
      '',
      `A wire of ${wireBaud} baud carries ${wireBaud / 10} bytes a second, about ${wireLines} of these lines: the host reads and stores ${(published / wireLines).toFixed(1)} times that.`,
    ],
    data: { lines, ours, published, bare, ratio, counted, recorded },
    figures: [
      {
        what: 'lines a second safe in the store against counted ones',
        wanted: `at least ${wantedRatio}`,
        found: ratio.toFixed(2),
        met: ratio >= wantedRatio,
      },
      { what: `lines lost of ${runs * lines} at full speed`, wanted: 'none', found: String(lost), met: lost === 0 },
    ],
  };
}

async function withMeter<T>(work: (go: string, port: string, folder: string) => Promise<T>): Promise<T> {
  const meters = await startMeters(1, lines, 0);
  try {
    return await work(meters.go, meters.ports[0]!, meters.folder);
  } finally {
    meters.stop();
  }
}
