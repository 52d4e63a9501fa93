import { describe, expect, it } from 'vitest';
import { compare } from '../../../shared/analysis/compare/compare.ts';
import { type ComparedQuantity, comparedQuantities } from '../../../shared/model/results/analysis-result.ts';
import { scenarios } from '../../../shared/practice/scenarios.ts';
import { simulateVisit } from '../../../shared/practice/simulate.ts';
import { shoulderFall, widthOf } from '../interval-width.ts';

const compared = (before: ReturnType<typeof simulateVisit>, after: ReturnType<typeof simulateVisit>) => {
  const outcome = compare(before.capture, after.capture);
  if (!outcome.ok) throw new Error(outcome.fault.message);
  return outcome.value.result;
};

describe('comparing two visits', () => {
  it('finds what was changed, in its direction, and says whether the old setting still holds', () => {
    const result = compared(simulateVisit('clean', 1), simulateVisit('next-year', 2));
    expect(result.lowEdge.significant && result.lowEdge.change! > 0).toBe(true);
    expect(result.highEdge.significant && result.highEdge.change! < 0).toBe(true);
    expect(result.plateau.significant && result.plateau.change! < 0).toBe(true);
    expect(result.oldSetPoint?.decision).toBe('pass');
  });

  describe('of the same burner', () => {
    const pairs = Array.from({ length: 12 }, (_, seed) =>
      compared(simulateVisit('clean', 100 + seed), simulateVisit('clean', 200 + seed)),
    );

    it('calls nothing changed in nearly all of them', () => {
      const alarms = pairs.filter((result) => comparedQuantities.some((name) => result[name].significant));
      // At most 5 % each: more than 3 of 12 would happen about once in five thousand runs (binomial).
      expect(alarms.length).toBeLessThanOrEqual(3);
    });

    it('not because its intervals are wide', () => {
      const { curve } = scenarios.find(({ name }) => name === 'clean')!;
      const caps: Record<ComparedQuantity, number> = {
        lowEdge: shoulderFall(curve.low.width),
        highEdge: shoulderFall(curve.high.width),
        windowWidth: shoulderFall(curve.low.width) + shoulderFall(curve.high.width),
        // The meters' accuracy, 0.5 % of 4.62 V + 0.01 V as a rectangle in each visit: 0.019 V, joined 0.027 V, times 2 x 2.63
        // for six intervals at 95 % together: 0.14 V. Twice that leaves as much again for the sweeps.
        plateau: 0.28,
        // Deviations of 0.01 V are known to a few tenths of themselves from a hundred readings: 5 x 0.01 V covers both visits.
        noise: 0.05,
        // Detector, amplifier and meter lag by 0.3 to 3 s, so that a lag changes by at most 2.7 s either way.
        lag: 5.4,
      };
      let checked = 0;
      for (const result of pairs)
        for (const name of comparedQuantities) {
          const { ci } = result[name];
          if (!ci) continue;
          expect([name, widthOf(ci)]).toEqual([name, Math.min(widthOf(ci), caps[name])]);
          checked += 1;
        }
      // A sweep that did not reach an end has no interval there; few of these did not.
      expect(checked).toBeGreaterThan(0.9 * pairs.length * comparedQuantities.length);
    });
  });
});
