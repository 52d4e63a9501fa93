import { describe, expect, it } from 'vitest';
import { layoutOf, type Shape } from '../../../../shared/analysis/curve/model/shape.ts';
import type { CurveFit } from '../../../../shared/analysis/curve/fit-shape.ts';
import { curveAt } from '../../../../shared/analysis/curve/model/curve-model.ts';
import { findCurveEnds } from '../../../../shared/analysis/window/ends/curve-ends.ts';
import { drawEnds } from '../../../../shared/analysis/window/ends/end-replicates.ts';

const shape: Shape = {
  lowShoulder: true,
  highShoulder: true,
  skew: { low: false, high: false },
  bend: 'level',
  clipped: false,
  flameLosses: 0,
};
const layout = layoutOf(shape);
const scale = { middle: 2.5, half: 1.5 };

/** Two wide shoulders that make one hump: no part of it is level. */
function hump(changed: Partial<Record<'amplitude' | 'low' | 'high', number>> = {}): Float64Array {
  const x = new Float64Array(layout.size);
  x[layout.amplitude] = changed.amplitude ?? 5;
  x[layout.low] = changed.low ?? 1.8;
  x[layout.high] = changed.high ?? 3.2;
  x[layout.lowWidth] = Math.log(0.4);
  x[layout.highWidth] = Math.log(0.4);
  return x;
}

const pressure = Float64Array.from({ length: 3001 }, (_, i) => 1 + i / 1000);
function endsOf(x: Float64Array) {
  const levels = (at: Float64Array) => {
    const into = new Float64Array(at.length);
    curveAt(x, layout, scale, at, into);
    return into;
  };
  const levelAt = (p: number) => levels(Float64Array.of(p))[0]!;
  return findCurveEnds({ pressure, signal: levels(pressure), levelAt }, [-Infinity, Infinity], 0.1, undefined);
}

function drawnFrom(replicates: Float64Array[], covariance = new Float64Array(layout.size ** 2)) {
  const x = hump();
  const parameters = Float64Array.from(replicates.flatMap((one) => [...one]));
  const fit = { layout, scale, range: {}, fit: { parameters: x } } as unknown as CurveFit;
  const all = { count: replicates.length, size: layout.size, parameters, covariance };
  return drawEnds(fit, all, endsOf(x), Float64Array.of(1.5), 0.1, () => [-Infinity, Infinity]);
}

describe('what replicates say of plateau and ends, by the tangent of the fitted curve', () => {
  it('moves ends and plateau as a small change of the curve itself does', () => {
    const by = 1e-4;
    for (const name of ['amplitude', 'low', 'high'] as const) {
      const changed = hump({ [name]: hump()[layout[name]]! + by });
      const [was, is, drawn] = [endsOf(hump()), endsOf(changed), drawnFrom([changed])];
      expect((drawn.plateau[0]! - was.plateau) / by).toBeCloseTo((is.plateau - was.plateau) / by, 2);
      expect((drawn.low[0]! - was.low!.value) / by).toBeCloseTo((is.low!.value - was.low!.value) / by, 1);
      expect((drawn.high[0]! - was.high!.value) / by).toBeCloseTo((is.high!.value - was.high!.value) / by, 1);
    }
  });

  it('puts as much of a plateau below the fitted one as above, however far the parameters of a hump go', () => {
    const away = 0.6;
    const drawn = drawnFrom([hump({ low: 1.8 + away, high: 3.2 + away }), hump({ low: 1.8 - away, high: 3.2 - away })]);
    const { plateau } = endsOf(hump());
    expect(drawn.plateau[0]! - plateau).toBeCloseTo(plateau - drawn.plateau[1]!, 9);
  });

  it('does not move an end with the size of the whole curve, when nine tenths of the plateau are required', () => {
    const drawn = drawnFrom([hump({ amplitude: 6 })]);
    const { low, high } = endsOf(hump());
    expect(drawn.low[0]!).toBeCloseTo(low!.value, 6);
    expect(drawn.high[0]!).toBeCloseTo(high!.value, 6);
    expect(drawn.plateau[0]!).toBeCloseTo((endsOf(hump()).plateau * 6) / 5, 9);
  });

  it('spreads ends that scatter less than the noise of the fit to what the noise makes of them', () => {
    // Only the low shoulder is uncertain, by 0.02: the low end moves by 0.02 times its derivative, the high one by the plateau's share.
    const u = 0.02;
    const covariance = new Float64Array(layout.size ** 2);
    covariance[layout.low * layout.size + layout.low] = u ** 2;
    const quantiles = Array.from({ length: 201 }, (_, i) => (i - 100) / 100);
    const replicates = quantiles.map((q) => hump({ low: 1.8 + 1e-3 * q }));
    const by = 1e-4;
    const derivative = (endsOf(hump({ low: 1.8 + by })).low!.value - endsOf(hump()).low!.value) / by;
    // Half the distance of the 84.13 % from the 15.87 % point is that standard deviation.
    const low = drawnFrom(replicates, covariance).low.toSorted();
    const at = (share: number) => low[Math.round(share * 200)]!;
    expect((at(0.8413) - at(0.1587)) / 2 / (u * Math.abs(derivative))).toBeCloseTo(1, 1);
    // Those that scatter more stay as they are.
    const wide = quantiles.map((q) => hump({ low: 1.8 + 0.2 * q }));
    expect(drawnFrom(wide, covariance).low).toEqual(drawnFrom(wide).low);
  });
});
