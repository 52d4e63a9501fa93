import { analyze } from '../../shared/analysis/analyze.ts';
import type { Capture } from '../../shared/model/capture.ts';
import type { BenchmarkOptions, Section, SectionResult } from './section.ts';
import { threeMinutes } from './speed/three-minutes.ts';
import { median, table } from './table.ts';

/** A hundred times the readings may take so many times the time. */
const worstRatio = 10;
/** Analyses whose memory is watched, how often it is looked at, and by how much it may grow in all after the first look. */
const repeats = 50;
const lookEvery = 10;
const growthAllowedMB = 2;

export const scale: Section = {
  name: 'scale',
  title: 'Scale: a hundred times the readings, and memory over repeated analyses',
  run,
};

const analysed = (capture: Capture) => {
  const began = performance.now();
  const found = analyze(capture);
  if (!found.ok) throw new Error(found.fault.message);
  return (performance.now() - began) / 1000;
};

/** Median of five, after one that compiles. */
function timeOf(capture: Capture): number {
  analysed(capture);
  return median(Array.from({ length: 5 }, () => analysed(capture)));
}

async function run({ progress }: BenchmarkOptions): Promise<SectionResult> {
  progress('3,600 readings');
  const plain = threeMinutes().capture;
  const sizes = [
    { name: 'three minutes, 10 a second', capture: plain },
    // 21 rounds of a little under three minutes, as fast as any meter speaks.
    { name: 'an hour, 50 a second', capture: threeMinutes({ rounds: 21, manometerHz: 50, signalHz: 50 }).capture },
    { name: 'three minutes, 1000 a second', capture: threeMinutes({ manometerHz: 1000, signalHz: 1000 }).capture },
  ];
  const timed = sizes.map(({ name, capture }) => {
    progress(name);
    return { name, readings: capture.readings.length, seconds: timeOf(capture) };
  });
  const base = timed[0]!;
  const ratios = timed.map(({ seconds }) => seconds / base.seconds);
  const worst = Math.max(...ratios);
  const memory = watchMemory(plain, progress);
  return {
    lines: [
      ...table([
        ['sweep', 'readings', 'seconds', 'times the first'],
        ...timed.map((row, i) => [row.name, String(row.readings), row.seconds.toFixed(3), ratios[i]!.toFixed(1)]),
      ]),
      '',
      `Memory after every ${lookEvery} of ${repeats} analyses, MB, right after a collection:`,
      ...table([
        ['analyses', ...memory.map((look) => String(look.analyses))],
        ['heap', ...memory.map((look) => look.heapMB.toFixed(1))],
        ['array buffers', ...memory.map((look) => look.buffersMB.toFixed(1))],
        ['process', ...memory.map((look) => look.rssMB.toFixed(0))],
      ]),
    ],
    data: { timed: timed.map((row, i) => ({ ...row, ratio: ratios[i] })), memory },
    figures: [
      {
        what: '360,000 readings against 3,600',
        wanted: `under ${worstRatio} times the time`,
        found: `${worst.toFixed(1)} times`,
        met: worst < worstRatio,
      },
      memoryFigure(memory),
    ],
  };
}

interface Look {
  analyses: number;
  heapMB: number;
  buffersMB: number;
  rssMB: number;
}

function watchMemory(capture: Capture, progress: BenchmarkOptions['progress']): Look[] {
  const looks: Look[] = [];
  for (let k = 1; k <= repeats; k += 1) {
    progress(`memory, ${k} of ${repeats}`);
    analysed(capture);
    if (k % lookEvery > 0) continue;
    // Twice: what the first collection sets free is only then given back.
    globalThis.gc?.();
    globalThis.gc?.();
    const { heapUsed, arrayBuffers, rss } = process.memoryUsage();
    looks.push({ analyses: k, heapMB: heapUsed / 1e6, buffersMB: arrayBuffers / 1e6, rssMB: rss / 1e6 });
  }
  return looks;
}

function memoryFigure(looks: Look[]) {
  const used = ({ heapMB, buffersMB }: Look) => heapMB + buffersMB;
  const growth = used(looks.at(-1)!) - used(looks[0]!);
  return {
    what: `memory in use after ${repeats} analyses against after ${lookEvery}`,
    wanted: `at most ${growthAllowedMB} MB more`,
    found: globalThis.gc ? `${growth.toFixed(2)} MB` : 'needs --expose-gc',
    met: globalThis.gc ? growth <= growthAllowedMB : undefined,
  };
}
