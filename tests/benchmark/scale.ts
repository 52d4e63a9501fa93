import { analyze } from '../../shared/analysis/analyze.ts';
import { forgetFits } from '../../shared/analysis/curve/fit-curve.ts';
import type { Capture } from '../../shared/model/capture.ts';
import type { BenchmarkOptions, Section, SectionResult } from './section.ts';
import { threeMinutes } from './speed/three-minutes.ts';
import { median, table } from './table.ts';

/** A hundred times the readings may take up to this many times as long: the fit works on averages of long captures. */
const maxRatio = 10;
/** Repeated analyses, after how many of them memory is measured, and by how much it may grow after the first measurement. */
const repeats = 50;
const measureEvery = 10;
const growthAllowedMB = 2;

export const scale: Section = {
  name: 'scale',
  title: 'Scale: a hundred times the readings, and memory over repeated analyses',
  run,
};

const timeOnce = (capture: Capture) => {
  forgetFits();
  const began = performance.now();
  const found = analyze(capture);
  if (!found.ok) throw new Error(found.fault.message);
  return (performance.now() - began) / 1000;
};

/** Median of five, after a first that compiles. */
function timeOf(capture: Capture): number {
  timeOnce(capture);
  return median(Array.from({ length: 5 }, () => timeOnce(capture)));
}

async function run({ progress }: BenchmarkOptions): Promise<SectionResult> {
  progress('3,600 readings');
  const plain = threeMinutes().capture;
  const sizes = [
    { name: 'three minutes, 10 a second', capture: plain },
    // 21 rounds of a little under three minutes, as fast as any meter sends.
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
  const memory = measureMemory(plain, progress);
  return {
    lines: [
      ...table([
        ['sweep', 'readings', 'seconds', 'times the first'],
        ...timed.map((row, i) => [row.name, String(row.readings), row.seconds.toFixed(3), ratios[i]!.toFixed(1)]),
      ]),
      '',
      `Memory after every ${measureEvery} of ${repeats} analyses, MB, right after a collection:`,
      ...table([
        ['analyses', ...memory.map((sample) => String(sample.analyses))],
        ['heap', ...memory.map((sample) => sample.heapMB.toFixed(1))],
        ['array buffers', ...memory.map((sample) => sample.buffersMB.toFixed(1))],
        ['process', ...memory.map((sample) => sample.rssMB.toFixed(0))],
      ]),
    ],
    data: { timed: timed.map((row, i) => ({ ...row, ratio: ratios[i] })), memory },
    figures: [
      {
        what: '360,000 readings against 3,600',
        wanted: `under ${maxRatio} times the time`,
        found: `${worst.toFixed(1)} times`,
        met: worst < maxRatio,
      },
      memoryFigure(memory),
    ],
  };
}

interface MemoryUse {
  analyses: number;
  heapMB: number;
  buffersMB: number;
  rssMB: number;
}

function measureMemory(capture: Capture, progress: BenchmarkOptions['progress']): MemoryUse[] {
  const samples: MemoryUse[] = [];
  for (let k = 1; k <= repeats; k += 1) {
    progress(`memory, ${k} of ${repeats}`);
    timeOnce(capture);
    if (k % measureEvery > 0) continue;
    // Twice: what the first collection frees is only then returned.
    globalThis.gc?.();
    globalThis.gc?.();
    const { heapUsed, arrayBuffers, rss } = process.memoryUsage();
    samples.push({ analyses: k, heapMB: heapUsed / 1e6, buffersMB: arrayBuffers / 1e6, rssMB: rss / 1e6 });
  }
  return samples;
}

function memoryFigure(samples: MemoryUse[]) {
  const used = ({ heapMB, buffersMB }: MemoryUse) => heapMB + buffersMB;
  const growth = used(samples.at(-1)!) - used(samples[0]!);
  return {
    what: `memory in use after ${repeats} analyses against after ${measureEvery}`,
    wanted: `at most ${growthAllowedMB} MB more`,
    found: globalThis.gc ? `${growth.toFixed(2)} MB` : 'needs --expose-gc',
    met: globalThis.gc ? growth <= growthAllowedMB : undefined,
  };
}
