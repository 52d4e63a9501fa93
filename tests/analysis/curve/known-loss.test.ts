import { expect, it } from 'vitest';
import { study } from '../../../shared/analysis/study.ts';
import { expectedOf } from '../../benchmark/visit-answers/expected.ts';
import { truthOf } from '../../benchmark/visit/truth/truth.ts';
import { drawSimulated } from '../../benchmark/visit/visit.ts';
import { holds } from '../interval-width.ts';

// What happens at the burner: the pressure is turned down a shoulder until the flame goes out where little of the signal is left.
// The signal then falls by the detector's lag, not by the pressure. Truth from the burner that was drawn.
it.each([
  ['signal meter silent while shut', 102],
  ['low side only', 103],
  ['no fan-only pressure', 103],
] as const)('does not take the fall of a lost flame for a shoulder: %s, seed %d', (kind, seed) => {
  const { simulated, capture } = drawSimulated(kind, seed);
  const found = study(capture, capture.setup);
  if (!found.ok) throw new Error(found.fault.message);
  const { interval, lag } = found.value;
  const { deadS, lagS } = simulated.facts.detector;
  expect(lag.ci[0]).toBeLessThan(deadS + lagS);
  const { ends } = expectedOf(simulated, capture, truthOf(simulated, capture.readings));
  for (const side of ['low', 'high'] as const)
    if (interval[side]?.bounded) expect(holds(interval[side].ci, ends[side]!)).toBe(true);
});
