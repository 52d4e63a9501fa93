import { describe, expect, it } from 'vitest';
import { collectSweep } from '../../../shared/analysis/sweep/collect.ts';
import type { Series } from '../../../shared/analysis/sweep/series/series.ts';
import { stepResponseOf } from '../../../shared/analysis/sweep/step-response.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { drawSweep, type Kind } from '../../benchmark/sweep/kinds.ts';

/** Six steps of 0.2 inH2O, eight seconds each, read 20 times a second; `response` from 0 to 1 in seconds after a step. */
function stairs(response: (seconds: number) => number, noise = 0, turns = 6): Series {
  const random = createRandom(7);
  const time = Float64Array.from({ length: (turns + 1) * 160 }, (_, i) => i / 20);
  const value = time.map((t) => {
    let p = 2;
    for (let k = 1; k <= turns; k += 1) if (t >= 8 * k) p += 0.2 * response(t - 8 * k);
    return p + noise * random.normal();
  });
  return { time, value };
}

describe('step response of the regulator', () => {
  it('a first-order response settles to within 5 % after ln 20 = 3.00 time constants', () => {
    for (const tau of [0.3, 0.5, 0.8]) {
      const found = stepResponseOf(stairs((s) => 1 - Math.exp(-s / tau)))!;
      expect(found.turns).toBe(6);
      expect(found.band).toBeCloseTo(0.05, 2);
      // Upwards by two readings at most: it is read every 0.05 s.
      expect(found.settleS).toBeGreaterThan(Math.log(20) * tau - 0.03);
      expect(found.settleS).toBeLessThan(Math.log(20) * tau + 0.15);
      expect(found.overshoot).toBeUndefined();
    }
  });

  it('a second-order response overshoots by exp(-pi z / sqrt(1 - z^2)): 16.3 % at a damping of 0.5', () => {
    const [damping, omega] = [0.5, 6];
    const root = Math.sqrt(1 - damping * damping);
    const found = stepResponseOf(
      stairs(
        (s) =>
          1 -
          Math.exp(-damping * omega * s) * (Math.cos(root * omega * s) + (damping / root) * Math.sin(root * omega * s)),
      ),
    )!;
    expect(found.overshoot).toBeCloseTo(Math.exp((-Math.PI * damping) / root), 2);
  });

  it('noise of the manometer widens the band, and is not taken for a slow regulator', () => {
    const found = stepResponseOf(stairs((s) => 1 - Math.exp(-s / 0.3), 0.005))!;
    expect(found.band).toBeGreaterThan(0.05);
    expect(found.settleS).toBeLessThan(Math.log(20) * 0.3 + 0.15);
    expect(found.overshoot).toBeUndefined();
  });

  it('is not given from fewer than three turns', () => {
    expect(stepResponseOf(stairs((s) => 1 - Math.exp(-s / 0.3), 0, 2))).toBeUndefined();
  });

  // The simulated regulator is turned for 0.4 s; the manometer lags by 0.05 to 0.2 s and is read 5 or 10 times a second.
  it('finds the turns of simulated stairs, and none in slow or fast ramps', () => {
    const of = (kind: Kind, seed: number) => {
      const sweep = collectSweep(drawSweep(kind, seed).capture);
      if (!sweep.ok) throw new Error(sweep.fault.message);
      return stepResponseOf(sweep.value.pressure);
    };
    for (let seed = 1; seed <= 20; seed += 1) {
      const found = of('stairs', seed)!;
      expect(found.turns, `seed ${seed}`).toBeGreaterThan(10);
      expect(found.settleS).toBeGreaterThan(0.3);
      expect(found.settleS).toBeLessThan(1.5);
      for (const kind of ['two shoulders', 'slow', 'fast', 'coarse digits', 'long dwells'] as const)
        expect(of(kind, seed), `${kind}, seed ${seed}`).toBeUndefined();
    }
  });
});
