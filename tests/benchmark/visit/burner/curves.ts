/**
 * Families of the steady flame signal against gauge pressure, as a share of the amplitude (0 to 1). None is taken from
 * the product's models on purpose: a state tracker must not depend on the shape.
 */
export interface Curve {
  family: CurveFamily;
  /** Pressures about half way down the shoulders, inH2O. */
  low: number;
  high: number;
  /** Widths of the shoulders, inH2O. */
  lowWidth: number;
  highWidth: number;
  /** `sag`: share lost per inH2O beyond `middle`; `two-plateaus`: share by which the lesser plateau lies lower. */
  depth: number;
  middle: number;
  /** Which side sags or has the lesser plateau. */
  side: -1 | 1;
}

export const curveFamilies = ['logistic', 'power-law', 'hump', 'sag', 'two-plateaus', 'cliff', 'gompertz'] as const;
export type CurveFamily = (typeof curveFamilies)[number];

const logistic = (x: number) => 1 / (1 + Math.exp(-x));
/** Sigmoid with algebraic tails, which fall far slower than any exponential. */
const algebraic = (x: number) => 0.5 * (1 + x / Math.sqrt(1 + x * x));
const gompertz = (x: number) => Math.exp(-Math.exp(-x));

/** The share at pressure `p`, inH2O. */
export function shareAt(c: Curve, p: number): number {
  const [x, y] = [(p - c.low) / c.lowWidth, (c.high - p) / c.highWidth];
  switch (c.family) {
    case 'logistic':
      return logistic(x) * logistic(y);
    case 'power-law': {
      // Hill functions with the slope of the logistic at half height.
      const rise = (Math.max(p, 0) / c.low) ** (c.low / c.lowWidth);
      return rise / (1 + rise) / (1 + (Math.max(p, 0) / c.high) ** (c.high / c.highWidth));
    }
    case 'hump': {
      // Log-normal about the middle of the ends, half high at each of them.
      const top = Math.sqrt(c.low * c.high);
      const far = Math.log(Math.max(p, 0.01) / top) / Math.log((p < top ? c.low : c.high) / top);
      return 2 ** -(far * far);
    }
    case 'sag': {
      const beyond = c.side * (p - c.middle);
      const soft = 0.1 * Math.log1p(Math.exp(Math.min(beyond / 0.1, 50)));
      return algebraic(x) * algebraic(y) * Math.max(0, 1 - c.depth * soft);
    }
    case 'two-plateaus':
      return logistic(x) * logistic(y) * (1 - c.depth * logistic((c.side * (p - c.middle)) / c.lowWidth));
    case 'cliff':
      // Nearly flat while it burns: the flame's loss makes the ends.
      return 1 - 0.02 * ((p - c.middle) / (c.high - c.low)) ** 2;
    case 'gompertz':
      return gompertz(x) * gompertz(y);
  }
}

/**
 * Pressure on the shoulder of a side at which the signal has fallen to a share of the highest; where a cliff drops first (the
 * curve itself never falls so far), its end.
 */
export function shoulderAt(c: Curve, side: -1 | 1, part: number): number {
  const steps = 4000;
  const [from, to] = side < 0 ? [c.high, 0.05] : [c.low, c.high + 12 * c.highWidth];
  const at = (i: number) => from + ((to - from) * i) / steps;
  let top = 0;
  for (let i = 0; i <= steps; i += 1) if (shareAt(c, at(i)) > shareAt(c, at(top))) top = i;
  const wanted = part * shareAt(c, at(top));
  for (let i = top; i <= steps; i += 1) if (shareAt(c, at(i)) <= wanted) return at(i);
  return side < 0 ? c.low : c.high;
}
