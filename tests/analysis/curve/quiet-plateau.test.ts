import { expect, it } from 'vitest';
import { study } from '../../../shared/analysis/study.ts';
import { drawWildSweep } from '../../benchmark/wild/kinds.ts';

// Invented sweeps whose flame was never lost: the steady curve that they were made from is the truth. A plateau with hardly any noise looks
// like one that an amplifier cuts off.
it.each([612, 613, 622])('a plateau that is only quiet makes no shoulder a loss of flame, seed %d', (seed) => {
  const { capture, facts, truth } = drawWildSweep('a quiet signal', seed);
  expect(facts.outs).toEqual([]);
  const found = study(capture, capture.setup);
  if (!found.ok) throw new Error(found.fault.message);
  expect(found.value.chosen.losses).toEqual([]);
  const { low, high } = found.value.interval;
  for (const [end, known] of [
    [low, truth.low],
    [high, truth.high],
  ] as const) {
    expect(end?.bounded).toBe(true);
    // A hundredth is what a manometer of that resolution leaves; these ends were 0.1 to 0.2 off.
    expect(Math.abs(end!.value - known!)).toBeLessThan(0.03);
  }
});
