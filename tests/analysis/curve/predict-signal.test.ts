import { describe, expect, it } from 'vitest';
import { type Layout, layoutOf, type Shape } from '../../../shared/analysis/curve/model/shape.ts';
import { createPredictor } from '../../../shared/analysis/curve/predict-signal.ts';

/** A pressure that swings through both shoulders, with the flame lost twice and a clipped, bowed, uneven curve. */
function everything(clipped: Shape['clipped']) {
  const points = 600;
  const grid = {
    startS: 0,
    stepS: 0.1,
    pressure: Float64Array.from({ length: points }, (_, i) => 2.5 + 2.2 * Math.sin(i / 60)),
    known: new Uint8Array(points).fill(1),
  };
  const times = Float64Array.from({ length: 250 }, (_, k) => k * 0.23 + 0.017);
  const layout = layoutOf({
    lowShoulder: true,
    highShoulder: true,
    skew: { low: true, high: true },
    bend: 'bowed',
    clipped,
    flameLosses: 2,
  });
  const x = new Float64Array(layout.size);
  const values = {
    amplitude: 4.7,
    dark: 0.1,
    low: 1.2,
    lowWidth: Math.log(0.15),
    lowSkew: 0.3,
    high: 4,
    highWidth: Math.log(0.2),
    highSkew: -0.3,
    tilt: 0.02,
    bow: -0.03,
    clip: 4.3,
    softness: Math.log(0.4),
    lag: 1.1,
    lagRoot: 0.7,
  } satisfies Partial<Record<keyof Layout, number>>;
  for (const [name, value] of Object.entries(values)) x[layout[name as keyof typeof values]] = value;
  x.set([20.33, 23.71, 40.02, 44.88], layout.flameLoss);
  return {
    layout,
    x,
    times,
    predictor: createPredictor({ input: { grid, scale: { middle: 2.5, half: 2.2 }, times } }, layout),
  };
}

describe.each(['before-lag', 'behind-lag'] as const)('the derivatives of a signal clipped %s', (clipped) => {
  const { layout, x, times, predictor } = everything(clipped);
  const slopes = new Float64Array(times.length * layout.size);
  predictor.slopes(x, slopes);

  it.each(Array.from({ length: layout.size }, (_, j) => j))('agree with central differences, parameter %i', (j) => {
    const [above, below] = [new Float64Array(times.length), new Float64Array(times.length)];
    const h = 1e-6;
    predictor.predict(
      x.map((value, i) => (i === j ? value + h : value)),
      above,
    );
    predictor.predict(
      x.map((value, i) => (i === j ? value - h : value)),
      below,
    );
    let largest = 0;
    for (let k = 0; k < times.length; k += 1) {
      const difference = (above[k]! - below[k]!) / (2 * h);
      expect(Math.abs(slopes[k * layout.size + j]! - difference)).toBeLessThan(1e-6 * (1 + Math.abs(difference)));
      largest = Math.max(largest, Math.abs(difference));
    }
    expect(largest).toBeGreaterThan(0.1);
  });
});
