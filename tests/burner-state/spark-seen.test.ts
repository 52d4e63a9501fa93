import { expect, it } from 'vitest';
import { createSparkSeen } from '../../shared/burner-state/spark-seen.ts';
import { provingOverSpark } from '../../shared/burner-state/trials/proving-over-spark.ts';
import type { FlameState, GasState } from '../../shared/model/burner-words.ts';

/** So many seconds of gas, flame and signal in V, at ten steps a second. */
type Stretch = [seconds: number, gas: GasState, flame: FlameState, signal: number];
const seen = (story: Stretch[]) => {
  const spark = createSparkSeen();
  for (const [seconds, gas, flame, signal] of story)
    for (let i = 0; i < seconds * 10; i += 1) spark.step({ gas, flame }, signal);
  return spark.signal();
};

it('a signal that comes up without gas and goes again is the spark', () => {
  expect(
    seen([
      [10, 'shut', 'dark', 0.02],
      [5, 'shut', 'unknown', 3],
      [2, 'shut', 'dark', 0.02],
      [5, 'shut', 'unknown', 2],
      [2, 'shut', 'dark', 0.02],
    ]),
  ).toBe(3);
});

it.each<[string, Stretch[]]>([
  [
    'what glows after a flame',
    [
      [10, 'flowing', 'burning', 4.6],
      [1, 'closing', 'out', 4],
      [30, 'shut', 'unknown', 3],
      [5, 'shut', 'dark', 0.02],
    ],
  ],
  [
    'what gas comes on under, which is asked about by itself',
    [
      [10, 'shut', 'dark', 0.02],
      [3, 'shut', 'unknown', 3],
      [10, 'flowing', 'unknown', 3],
      [5, 'shut', 'dark', 0.02],
    ],
  ],
  [
    'a reading or two',
    [
      [10, 'shut', 'dark', 0.02],
      [0.4, 'shut', 'unknown', 3],
      [5, 'shut', 'dark', 0.02],
    ],
  ],
])('%s is none', (_, story) => expect(seen(story)).toBeUndefined());

it('a flame is proved half way above the spark, or by nobody but the technician', () => {
  const known = { dark: 0, height: 5, heightKnown: true };
  expect(provingOverSpark(1.25, known)).toBe(1.25);
  expect(provingOverSpark(1.25, { ...known, spark: 1 })).toBe(1.25);
  expect(provingOverSpark(1.25, { ...known, spark: 2 })).toBe(3.5);
  expect(provingOverSpark(1.25, { ...known, spark: 4 })).toBeUndefined();
  // Nothing is known of the flame yet.
  expect(provingOverSpark(1.25, { ...known, heightKnown: false, spark: 2 })).toBeUndefined();
});
