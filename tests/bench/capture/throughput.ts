import { join } from 'node:path';
import type { BenchOptions, Section, SectionResult } from '../section.ts';
import { median, table } from '../table.ts';
import type { Counted } from './count-alone.ts';
import { plugIn, runAlone } from './ports.ts';
import type { Recorded } from './record-alone.ts';

const lines = 200_000;
const runs = 3;
const wantedRatio = 0.7;
// As fast as usual USB adapters go (common practice). A byte takes ten bits, these lines have nine bytes.
const wireBaud = 921_600;
const wireLines = Math.floor(wireBaud / 10 / 9);

/**
 * How fast a pseudo-terminal can be emptied: by the whole host up to stored lines, and by `serialport` with its line parser that
 * only counts. The same meter for both; the pseudo-terminal and the processes that feed it cost both the same.
 */
export const throughput: Section = {
  name: 'throughput',
  title: `Throughput: ${lines} lines as fast as a pseudo-terminal gives them, stored by the host against only counted`,
  run,
};

async function run({ progress }: BenchOptions): Promise<SectionResult> {
  const counted: Counted[] = [];
  const recorded: Recorded[] = [];
  for (let k = 1; k <= runs; k += 1) {
    progress(`run ${k} of ${runs}`);
    counted.push(await onWire((go, port) => runAlone<Counted>('count-alone.ts', [go, String(lines), port])));
    recorded.push(
      await onWire((go, port, folder) =>
        runAlone<Recorded>('record-alone.ts', [join(folder, 'store'), go, String(lines), port]),
      ),
    );
  }
  const rates = (all: { seconds: number }[]) => all.map(({ seconds }) => lines / seconds);
  const perLine = (all: { cpuSeconds: number }[]) => median(all.map(({ cpuSeconds }) => (1e6 * cpuSeconds) / lines));
  const ours = median(rates(recorded));
  const bare = median(rates(counted));
  const ratio = ours / bare;
  const lost = recorded.reduce((total, { kept }) => total + (kept[0]?.lost ?? 0), 0);
  const row = (what: string, all: { seconds: number; cpuSeconds: number }[]) => [
    what,
    median(rates(all)).toFixed(0),
    rates(all)
      .map((rate) => rate.toFixed(0))
      .join(' '),
    perLine(all).toFixed(1),
  ];
  return {
    lines: [
      ...table([
        ['', 'lines a second', 'each run', 'processor, us a line'],
        row('counted', counted),
        row('read, stored, published', recorded),
      ]),
      '',
      `A wire of ${wireBaud} baud carries ${wireBaud / 10} bytes a second, about ${wireLines} of these lines: the host stores ${(ours / wireLines).toFixed(1)} times that.`,
    ],
    data: { lines, ours, bare, ratio, counted, recorded },
    figures: [
      {
        what: 'stored lines a second against counted ones',
        wanted: `at least ${wantedRatio}`,
        found: ratio.toFixed(2),
        met: ratio >= wantedRatio,
      },
      { what: `lines lost of ${runs * lines} at full speed`, wanted: 'none', found: String(lost), met: lost === 0 },
    ],
  };
}

async function onWire<T>(work: (go: string, port: string, folder: string) => Promise<T>): Promise<T> {
  const wires = await plugIn(1, lines, 0);
  try {
    return await work(wires.go, wires.ports[0]!, wires.folder);
  } finally {
    wires.unplug();
  }
}
