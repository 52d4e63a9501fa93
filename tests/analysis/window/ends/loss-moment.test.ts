import { describe, expect, it } from 'vitest';
import { exactEstimate } from '../../../../shared/analysis/curve/estimate.ts';
import { pressureGrid } from '../../../../shared/analysis/sweep/series/pressure-grid.ts';
import { withMoment } from '../../../../shared/analysis/window/ends/loss-moment.ts';

/** At rest at 2 inH2O, down to 1.5 within half a second at 10 s, and at rest again; twenty readings a second. */
const time = Float64Array.from({ length: 400 }, (_, i) => i / 20);
const inJerks = pressureGrid({ time, value: time.map((t) => 2 - Math.min(0.5, Math.max(0, t - 10))) }, 0.05);

describe('the pressure at which a flame was lost', () => {
  it('may be every pressure of the jerk of the hand in which it went', () => {
    const { ci } = withMoment(exactEstimate(1.8), inJerks, 10.2, { timeU: 0.2, pressureU: 0 });
    // From 0.2 s before the jerk to 0.1 s after it.
    expect(ci[0]).toBeCloseTo(1.5, 2);
    expect(ci[1]).toBeCloseTo(2, 2);
  });

  it('is the pressure at rest where the hand rested longer than the moment is uncertain', () => {
    const { ci } = withMoment(exactEstimate(2), inJerks, 5, { timeU: 0.2, pressureU: 0 });
    expect(ci[0]).toBeCloseTo(2, 2);
    expect(ci[1]).toBeCloseTo(2, 2);
  });

  it('is known no better than the manometer shows it', () => {
    const { ci } = withMoment(exactEstimate(2), inJerks, 5, { timeU: 0.2, pressureU: 0.01 });
    // Two standard uncertainties, JCGM 100:2008, 6.3.3.
    expect(ci[0]).toBeCloseTo(1.98, 3);
    expect(ci[1]).toBeCloseTo(2.02, 3);
  });
});
