import { createPracticeBench } from '../../shared/practice/bench.ts';
import { practicePorts } from '../../shared/practice/bench-meters.ts';
import type { BenchAction, BenchState } from '../../shared/practice/bench-controls.ts';
import { readBenchLine } from '../../shared/practice/read-line.ts';
import type { Reading } from '../../shared/model/reading.ts';

/** What is done at the bench, and when, in seconds. */
export type Deeds = readonly (readonly [atS: number, action: BenchAction])[];

export interface BenchStory {
  /** Readings of manometer and flame signal meter: inH2O and V; NaN where the meter said overload. */
  readings: Reading[];
  /** The bench every tenth of a second: `states[10 * s]` is its state `s` seconds after the start. */
  states: BenchState[];
  /** Lines of the port of fan pressure, spark and valve. */
  airLines: { atS: number; text: string }[];
}

const meterOf = new Map<string, Pick<Reading, 'role' | 'unit'>>([
  [practicePorts.pressure.port, { role: 'pilot_pressure', unit: 'inH2O' }],
  [practicePorts.signal.port, { role: 'flame_signal', unit: 'V' }],
]);

/** Lets the bench run for `seconds` while things are done to it. */
export function playBench(
  options: { scenario?: string; seed: number; hasControl: boolean },
  seconds: number,
  deeds: Deeds,
): BenchStory {
  const bench = createPracticeBench({ scenario: 'clean', ...options });
  const story: BenchStory = { readings: [], states: [bench.state()], airLines: [] };
  for (let tenth = 0; tenth < seconds * 10; tenth += 1) {
    for (const [atS, action] of deeds) if (Math.round(atS * 10) === tenth) bench.act(action);
    for (const { port, text, atMs } of bench.advance((tenth + 1) * 100)) {
      const meter = meterOf.get(port);
      if (meter) story.readings.push({ ...meter, elapsedS: atMs / 1000, raw: text, ...readBenchLine(text) });
      else story.airLines.push({ atS: atMs / 1000, text });
    }
    story.states.push(bench.state());
  }
  return story;
}

/** Readings of one meter between two times, in seconds. */
export const valuesOf = (
  { readings }: BenchStory,
  role: 'pilot_pressure' | 'flame_signal',
  fromS: number,
  toS: number,
): number[] =>
  readings
    .filter((reading) => reading.role === role && reading.elapsedS >= fromS && reading.elapsedS < toS)
    .map(({ value }) => value);
