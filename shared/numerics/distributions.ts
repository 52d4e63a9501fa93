import { exp, log, log1p } from './elementary.ts';

/** Lanczos coefficients, g = 607/128, n = 15 (P. Godfrey 2001): relative error below 1e-14 for positive arguments. */
// Written with the digits of its source; the machine keeps the first sixteen.
/* oxlint-disable no-loss-of-precision */
const lanczos = [
  0.99999999999999709182, 57.156235665862923517, -59.597960355475491248, 14.136097974741747174, -0.49191381609762019978,
  0.33994649984811888699e-4, 0.46523628927048575665e-4, -0.98374475304879564677e-4, 0.15808870322491248884e-3,
  -0.21026444172410488319e-3, 0.2174396181152126432e-3, -0.16431810653676389022e-3, 0.84418223983852743293e-4,
  -0.2619083840158140867e-4, 0.36899182659531622704e-5,
];

/** Natural logarithm of the gamma function for x > 0. */
export function logGamma(x: number): number {
  let sum = lanczos[0]!;
  for (let i = 1; i < lanczos.length; i += 1) sum += lanczos[i]! / (x - 1 + i);
  const t = x - 1 + 607 / 128 + 0.5;
  return (x - 0.5) * log(t) - t + log(2.5066282746310005 * sum);
}

/** Remainder of Stirling's series: logGamma(x) - [(x - 1/2) ln x - x + ln(2 pi)/2]; keeps differences of large terms exact. */
function stirlingRest(x: number): number {
  if (x < 10) return logGamma(x) - ((x - 0.5) * log(x) - x + 0.9189385332046727);
  const s = 1 / (x * x);
  return (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s * (1 / 1188 - (s * 691) / 360360))))) / x;
}

/** ln of x^a (1-x)^b / B(a, b), with y = 1 - x given apart so that neither tail loses digits. */
function logBetaFront(a: number, b: number, x: number, y: number): number {
  const n = a + b;
  // Deviance form (Loader 2000): no difference of large logarithms where x is near a / n.
  const part = (k: number, mean: number): number => {
    const d = (mean - k) / k;
    return k * (Math.abs(d) < 0.01 ? log1p(d) : log(mean / k));
  };
  return (
    part(a, n * x) +
    part(b, n * y) +
    stirlingRest(n) -
    stirlingRest(a) -
    stirlingRest(b) +
    0.5 * log((a * b) / n) -
    0.9189385332046727
  );
}

/** Continued fraction of the incomplete beta function (Numerical Recipes 6.4, modified Lentz). */
function betaFraction(a: number, b: number, x: number): number {
  const tiny = 1e-300;
  let c = 1;
  let d = 1 - ((a + b) * x) / (a + 1);
  if (Math.abs(d) < tiny) d = tiny;
  d = 1 / d;
  let h = d;
  for (let m = 1; m < 20000; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 + even * d;
    if (Math.abs(d) < tiny) d = tiny;
    c = 1 + even / c;
    if (Math.abs(c) < tiny) c = tiny;
    d = 1 / d;
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 + odd * d;
    if (Math.abs(d) < tiny) d = tiny;
    c = 1 + odd / c;
    if (Math.abs(c) < tiny) c = tiny;
    d = 1 / d;
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return h;
}

/** Both tails of the beta distribution at x, `y` being 1 - x. */
function betaTails(a: number, b: number, x: number, y: number): { lower: number; upper: number } {
  if (x <= 0) return { lower: 0, upper: 1 };
  if (y <= 0) return { lower: 1, upper: 0 };
  const front = exp(logBetaFront(a, b, x, y));
  if (x <= (a + 1) / (a + b + 2)) {
    const lower = (front * betaFraction(a, b, x)) / a;
    return { lower, upper: 1 - lower };
  }
  const upper = (front * betaFraction(b, a, y)) / b;
  return { lower: 1 - upper, upper };
}

/** Distribution function of the beta distribution at x, a and b > 0. */
export const betaCdf = (x: number, a: number, b: number): number => betaTails(a, b, x, 1 - x).lower;

/**
 * Quantile of the beta distribution: the x with betaCdf(x, a, b) = p, for p in [0, 1] and a, b > 0.
 * Bracketed Newton in logit(x), which keeps digits at both ends.
 */
export function betaQuantile(p: number, a: number, b: number): number {
  if (p <= 0) return 0;
  if (p >= 1) return 1;
  const lowTail = p <= 0.5;
  let low = -745;
  let high = 745;
  let z = log(a / b);
  for (let i = 0; i < 400; i += 1) {
    const e = exp(-Math.abs(z));
    const x = z >= 0 ? 1 / (1 + e) : e / (1 + e);
    const y = z >= 0 ? e / (1 + e) : 1 / (1 + e);
    const tails = betaTails(a, b, x, y);
    const miss = lowTail ? log(tails.lower / p) : -log(tails.upper / (1 - p));
    if (miss > 0) high = z;
    else low = z;
    // d ln(tail) / dz = density * x * (1 - x) / tail
    const slope = exp(logBetaFront(a, b, x, y)) / (lowTail ? tails.lower : tails.upper);
    let next = z - miss / slope;
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (Math.abs(next - z) <= 4e-16 * Math.max(1, Math.abs(z)) || high - low < 1e-15) {
      z = next;
      break;
    }
    z = next;
  }
  return z >= 0 ? 1 / (1 + exp(-z)) : exp(z) / (1 + exp(z));
}

/** ln of x^a e^-x / Gamma(a). */
const logGammaFront = (a: number, x: number): number =>
  a * (Math.abs(x / a - 1) < 0.01 ? log1p((x - a) / a) : log(x / a)) -
  (x - a) +
  0.5 * log(a) -
  0.9189385332046727 -
  stirlingRest(a);

/** Both tails of the gamma distribution with shape a and scale 1 (Numerical Recipes 6.2). */
function gammaTails(a: number, x: number): { lower: number; upper: number } {
  if (x <= 0) return { lower: 0, upper: 1 };
  const front = exp(logGammaFront(a, x));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < 10000; n += 1) {
      term *= x / (a + n);
      sum += term;
      if (term < sum * 1e-17) break;
    }
    const lower = front * sum;
    return { lower, upper: 1 - lower };
  }
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let h = d;
  for (let i = 1; i < 10000; i += 1) {
    const an = -i * (i - a);
    b += 2;
    d = an * d + b;
    if (Math.abs(d) < 1e-300) d = 1e-300;
    c = b + an / c;
    if (Math.abs(c) < 1e-300) c = 1e-300;
    d = 1 / d;
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  const upper = front * h;
  return { lower: 1 - upper, upper };
}

/** Quantile of the chi-square distribution with `degrees` of freedom (> 0), p in [0, 1]. Bracketed Newton in ln x. */
export function chiSquareQuantile(p: number, degrees: number): number {
  if (p <= 0) return 0;
  if (p >= 1) return Number.POSITIVE_INFINITY;
  const a = degrees / 2;
  const lowTail = p <= 0.5;
  let low = -700;
  let high = 700;
  let z = log(a);
  for (let i = 0; i < 400; i += 1) {
    const x = exp(z);
    const tails = gammaTails(a, x);
    const miss = lowTail ? log(tails.lower / p) : -log(tails.upper / (1 - p));
    if (miss > 0) high = z;
    else low = z;
    const slope = exp(logGammaFront(a, x)) / (lowTail ? tails.lower : tails.upper);
    let next = z - miss / slope;
    if (!(next > low && next < high)) next = (low + high) / 2;
    const moved = Math.abs(next - z);
    z = next;
    if (moved <= 4e-16 * Math.max(1, Math.abs(z))) break;
  }
  return 2 * exp(z);
}

/** Distribution function of the standard normal distribution; the lower tail to full relative precision. */
export function normalCdf(z: number): number {
  const tails = gammaTails(0.5, (z * z) / 2);
  return z < 0 ? tails.upper / 2 : 0.5 + tails.lower / 2;
}

/** Quantile of the standard normal distribution, p in [0, 1]: from the chi-square quantile, refined by Newton on the tail. */
export function normalQuantile(p: number): number {
  if (p <= 0) return Number.NEGATIVE_INFINITY;
  if (p >= 1) return Number.POSITIVE_INFINITY;
  if (p === 0.5) return 0;
  // z^2 of the two-sided tail is chi-square with one degree of freedom.
  const root = Math.sqrt(chiSquareQuantile(1 - 2 * Math.min(p, 1 - p), 1));
  const sign = p < 0.5 ? -1 : 1;
  let z = root;
  const tail = Math.min(p, 1 - p);
  for (let i = 0; i < 8; i += 1) {
    const upper = gammaTails(0.5, (z * z) / 2).upper / 2;
    const density = exp((-z * z) / 2) / 2.5066282746310005;
    const step = (upper - tail) / density;
    z += step;
    if (Math.abs(step) < 1e-16 * z) break;
  }
  return sign * z;
}

/**
 * Beyond so many degrees of freedom the expansion of Student's quantile about the normal one has all digits of a double, while
 * the beta quantile loses them: its argument comes too near to 1.
 */
const manyDegrees = 1e5;

/** Quantile of Student's t with `degrees` of freedom (> 0, may be fractional or infinite), from the beta quantile. */
export function studentQuantile(p: number, degrees: number): number {
  if (p === 0.5) return 0;
  if (degrees > manyDegrees) return studentFromNormal(normalQuantile(p), degrees);
  const tail = 2 * Math.min(p, 1 - p);
  const sign = p < 0.5 ? -1 : 1;
  // For tail < 0.5: x = degrees / (degrees + t^2) is beta(degrees/2, 1/2); otherwise from the other side.
  if (tail < 0.5) {
    const x = betaQuantile(tail, degrees / 2, 0.5);
    return sign * Math.sqrt((degrees * betaComplement(tail, degrees / 2, 0.5)) / x);
  }
  const y = betaQuantile(1 - tail, 0.5, degrees / 2);
  return sign * Math.sqrt((degrees * y) / (1 - y));
}

/**
 * Student's quantile from the normal one `z` by its expansion in 1 / degrees.
 * Source: Abramowitz and Stegun 1964, Handbook of Mathematical Functions, 26.7.5.
 */
function studentFromNormal(z: number, degrees: number): number {
  if (!Number.isFinite(z)) return z;
  const first = (z ** 3 + z) / 4;
  const second = (5 * z ** 5 + 16 * z ** 3 + 3 * z) / 96;
  const third = (3 * z ** 7 + 19 * z ** 5 + 17 * z ** 3 - 15 * z) / 384;
  const fourth = (79 * z ** 9 + 776 * z ** 7 + 1482 * z ** 5 - 1920 * z ** 3 - 945 * z) / 92160;
  return z + (first + (second + (third + fourth / degrees) / degrees) / degrees) / degrees;
}

/** 1 - betaQuantile(p, a, b) without the loss of digits. */
const betaComplement = (p: number, a: number, b: number): number => {
  const x = betaQuantile(p, a, b);
  return x < 0.5 ? 1 - x : betaQuantile(1 - p, b, a);
};
