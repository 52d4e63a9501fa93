import { describe, expect, it } from 'vitest';
import { findSelfCheck } from '../../../../shared/analysis/sweep/self-check/self-check.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';
import { drawVisit } from '../../../benchmark/visit/visit.ts';
import { drawWildSweep } from '../../../benchmark/wild/kinds.ts';
import { answer } from '../../answer.ts';

/** A steady flame of 4 V before a shutter and a lag, step by step: readings every tenth of a second, and the share that each shows. */
function behindShutter(periodS: number, shutS: number, lagS: number, noise: number) {
  const [stepS, random] = [0.005, createRandom(8)];
  const [time, value, share]: number[][] = [[], [], []];
  let level = 1;
  for (let i = 0; i < 90 / stepS; i += 1) {
    const isShut = (i * stepS) % periodS < shutS;
    level += (1 - Math.exp(-stepS / lagS)) * (Number(!isShut) - level);
    // The first half minute brings the oscillation to rest.
    if (i * stepS < 30 || i % 20 !== 0) continue;
    time!.push(i * stepS);
    value!.push(4 * level + noise * random.normal());
    share!.push(level);
  }
  return { signal: { time: Float64Array.from(time!), value: Float64Array.from(value!) }, share: share! };
}

describe('what a shutter leaves of the signal', () => {
  it.each([
    // Period, shut, lag in s: short before the period, half as long, and as long.
    [6, 0.5, 0.4],
    [3, 0.4, 1.5],
    [2.4, 0.4, 2.2],
  ])('every %d s for %d s behind a lag of %d s: is known to half a percent of the steady signal', (...facts) => {
    const { signal, share } = behindShutter(...facts, 0.01);
    const { shade } = findSelfCheck(signal)!;
    const off = Array.from(signal.time, (t, i) => shade!.shareAt(t) - share[i]!);
    expect(Math.sqrt(off.reduce((sum, each) => sum + each * each, 0) / off.length)).toBeLessThan(0.005);
    expect(shade!.u).toBeLessThan(0.005);
  });

  // Seven pulses in five minutes fell between the readings that are compared; the plateau had an interval of NaN to NaN.
  it('leaves the plateau an interval where hardly a reading shows a pulse', () => {
    const { capture, truth } = drawVisit('many trials', 1036);
    const { plateau } = answer(capture).result;
    expect(plateau.ci[0]).toBeLessThan(truth.plateau);
    expect(plateau.ci[1]).toBeGreaterThan(truth.plateau);
    expect(plateau.ci[1] - plateau.ci[0]).toBeLessThan(0.1 * truth.plateau);
  });

  // Between pulses the signal stays up to a tenth below its steady level; each plateau was 5 to 10 % off in an interval of 2 %.
  it.each([1, 2, 4])('does not lower the plateau where the lag is as long as the period, sweep %i', (seed) => {
    const { capture, truth } = drawWildSweep('a shutter about as often as the lag', seed);
    const { plateau } = answer(capture).result;
    expect(plateau.ci[0]).toBeLessThan(truth.plateau);
    expect(plateau.ci[1]).toBeGreaterThan(truth.plateau);
    expect(plateau.ci[1] - plateau.ci[0]).toBeLessThan(0.04 * truth.plateau);
  });
});
