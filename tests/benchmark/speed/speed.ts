import { analyze } from '../../../shared/analysis/analyze.ts';
import { replicateCount } from '../../../shared/analysis/curve/bootstrap.ts';
import { forgetFits } from '../../../shared/analysis/curve/fit-curve.ts';
import type { BenchmarkOptions, Section, SectionResult } from '../section.ts';
import { median } from '../table.ts';
import { refitWithSciPy } from './scipy-refits.ts';
import { threeMinutes } from './three-minutes.ts';

/** Analyses of which the median counts, and refits by SciPy from which a thousand are extrapolated. */
const runs = 9;
const refits = 40;
/** The whole analysis has to be so many times faster than the refits alone. */
const wantedRatio = 20;

export const speed: Section = {
  name: 'speed',
  title: 'Speed: a three-minute sweep, analyzed with its replicates, against as many refits by SciPy',
  run,
};

async function run({ progress }: BenchmarkOptions): Promise<SectionResult> {
  const { facts, capture } = threeMinutes();
  const times: number[] = [];
  for (let k = 0; k <= runs; k += 1) {
    progress(`analysis ${k + 1} of ${runs + 1}`);
    forgetFits();
    const began = performance.now();
    const found = analyze(capture);
    if (!found.ok) throw new Error(found.fault.message);
    times.push((performance.now() - began) / 1000);
  }
  // The first run also compiles; a technician waits for that once a day.
  const [first, ...warm] = times as [number, ...number[]];
  const ours = median(warm);
  progress(`${2 * refits} refits by SciPy`);
  const scipy = refitWithSciPy(capture, facts, refits);
  const seconds = (value: number) => `${value.toFixed(value < 10 ? 3 : 1)} s`;
  const wanted = `at least ${wantedRatio} times as fast`;
  const what = `${replicateCount} replicates against ${replicateCount} refits by SciPy`;
  const lines = [
    `${capture.readings.length} readings. Whole analysis with ${replicateCount} replicates: ${seconds(ours)} (median of ${runs}), the first ${seconds(first)}.`,
  ];
  const data = { readings: capture.readings.length, replicates: replicateCount, analysis_s: ours, first_s: first };
  if (!scipy)
    return {
      lines: [...lines, 'SciPy: skipped, no python3 with scipy was found (Debian: python3-scipy).'],
      data: { ...data, scipy: null },
      figures: [{ what, wanted, found: 'no SciPy here', met: undefined }],
    };
  // The faster of its methods counts.
  const method = scipy.seconds.lm < scipy.seconds.trf ? 'lm' : 'trf';
  const theirs = scipy.seconds[method] * replicateCount;
  const ratio = theirs / ours;
  const each = (name: 'lm' | 'trf') =>
    `'${name}' ${(1000 * scipy.seconds[name]).toFixed(0)} ms (${scipy.evaluations[name].toFixed(0)} evaluations)`;
  return {
    lines: [
      ...lines,
      `SciPy ${scipy.scipy} (NumPy ${scipy.numpy}, Python ${scipy.python}), least_squares from the fitted parameters: one refit ${each('lm')}, ${each('trf')}.`,
      `Extrapolated from ${refits} refits of each: ${replicateCount} by '${method}' take ${seconds(theirs)}, ${ratio.toFixed(1)} times the whole analysis.`,
    ],
    data: { ...data, scipy: { ...scipy, refits, method, all_s: theirs, ratio } },
    figures: [{ what, wanted, found: `${ratio.toFixed(1)} times`, met: ratio >= wantedRatio }],
  };
}
