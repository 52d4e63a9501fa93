import { describe, expect, it } from 'vitest';
import { layoutOf } from '../../../../shared/analysis/curve/model/shape.ts';
import type { CurveFit } from '../../../../shared/analysis/curve/fit-shape.ts';
import { betweenShapes } from '../../../../shared/analysis/window/ends/between-shapes.ts';

const readings = 800;

/**
 * A fit of a plateau of 5 V with shoulders at 1.5 and 4 inH2O, moved by `by` as a whole, whose AICc lies `excess` above that of another
 * with as many parameters.
 */
function fitMoved(by: number, excess = 0): CurveFit {
  const shape = {
    lowShoulder: true,
    highShoulder: true,
    skew: { low: false, high: false },
    bend: 'level',
    clipped: false,
    flameLosses: 0,
  } as const;
  const layout = layoutOf(shape);
  const parameters = new Float64Array(layout.size);
  parameters[layout.amplitude] = 5;
  parameters[layout.low] = 1.5 + by;
  parameters[layout.high] = 4 + by;
  for (const at of [layout.lowWidth, layout.highWidth]) parameters[at] = Math.log(0.05);
  // AICc is the deviance per reading times the effective sample size, and terms that both have.
  return {
    shape,
    layout,
    range: {},
    scale: { middle: 2.75, half: 2.25 },
    fit: { parameters },
    residual: new Float64Array(readings),
    effectiveSize: readings,
    deviance: excess / readings,
  } as unknown as CurveFit;
}

const between = (fit: CurveFit, ...others: CurveFit[]) =>
  betweenShapes({ fit, losses: [], tried: [fit, ...others] }, [0.5, 5], 0.1, undefined);

describe('what the choice among shapes leaves open', () => {
  it('is nothing where there is no other shape', () => {
    expect(between(fitMoved(0))).toEqual({ low: 0, high: 0, plateau: 0 });
  });

  it('is the distance of a shape with the same support, by its half weight', () => {
    const { low, high, plateau } = between(fitMoved(0), fitMoved(0.04));
    expect(low).toBeCloseTo(0.04 / Math.SQRT2, 5);
    expect(high).toBeCloseTo(0.04 / Math.SQRT2, 5);
    expect(plateau).toBeLessThan(1e-6);
  });

  // Akaike weights: exp(-excess / 2), made to sum to 1.
  it.each([2, 6])('counts a shape with an AICc larger by %d less', (excess) => {
    const weight = Math.exp(-excess / 2) / (1 + Math.exp(-excess / 2));
    expect(between(fitMoved(0), fitMoved(-0.04, excess)).low).toBeCloseTo(0.04 * Math.sqrt(weight), 5);
  });

  it('counts one that fits better and was passed over for its parameters more than the chosen one', () => {
    const weight = 1 / (1 + Math.exp(-2));
    expect(between(fitMoved(0, 4), fitMoved(0.04)).high).toBeCloseTo(0.04 * Math.sqrt(weight), 5);
  });

  it('leaves out a shape without support', () => {
    expect(between(fitMoved(0), fitMoved(0.5, 11)).low).toBe(0);
  });
});
