import { cubicSplinesAt } from '../../../numerics/b-spline.ts';
import { exp, log } from '../../../numerics/elementary.ts';
import type { TestedScale } from '../../sweep/series/pairs.ts';
import type { Layout } from './shape.ts';
import { type Shoulders, shouldersAlong } from './shoulders.ts';

/**
 * Mean steady signal of a burning flame at each pressure: cut(dark + A B(u) L((p - low)/w)^k L((high - p)/w)^k + d(p)), L the logistic
 * function, d the discrepancy, u the pressure on the tested scale, B = 1 + tilt u + bow u^2 - sag v^2 with v the distance beyond the knee. Widths
 * and the skews k are fitted as logarithms so that they stay positive; a skew other than 1 rounds the top of a shoulder more or
 * less than its foot. The amplifier cuts flicker off at its top, so that the mean turns into the clipped plateau over a little
 * height t, the softness (a logarithm as well): cut(s) = clip - t ln(1 + exp((clip - s)/t)), the mean for logistic flicker.
 * Source of the skewed shoulder: Richards 1959, J. Exp. Botany 10, 290 (generalized logistic).
 *
 * @param x         parameters in the order of `layout`
 * @param pressure  in the sweep's unit
 * @param into      receives one signal for each pressure, in the signal's unit
 * @param slopes    when given, receives the derivative by each parameter: `layout.size` numbers a pressure, row by row; those
 *                  by `lag`, `lagRoot` and the flame losses are left at 0
 * @param shoulders what the shoulders do along these pressures, kept from call to call where they are always the same
 */
export function curveAt(
  x: Float64Array,
  layout: Layout,
  scale: TestedScale,
  pressure: Float64Array,
  into: Float64Array,
  slopes?: Float64Array,
  shoulders?: Shoulders,
): void {
  // Taken out of the loop, which is where most of the time of a fit is spent.
  const { size: n, discrepancy, knots, lowSkew, highSkew, sagSide } = layout;
  const [tiltAt, bowAt, sagAt, kneeAt, darkAt] = [layout.tilt, layout.bow, layout.sag, layout.knee, layout.dark];
  const [lowAt, lowWidthAt, highAt, highWidthAt] = [layout.low, layout.lowWidth, layout.high, layout.highWidth];
  const { middle, half } = scale;
  const amplitudeAt = layout.amplitude;
  const amplitude = x[amplitudeAt]!;
  const dark = darkAt < 0 ? 0 : x[darkAt]!;
  const { low, high, rise, logRise, fall, logFall, full } = shouldersAlong(x, layout, pressure, shoulders);
  const tilt = tiltAt < 0 ? 0 : x[tiltAt]!;
  const bow = bowAt < 0 ? 0 : x[bowAt]!;
  const sag = sagAt < 0 ? 0 : x[sagAt]!;
  const knee = kneeAt < 0 ? 0 : x[kneeAt]!;
  const splines = new Float64Array(4);
  slopes?.fill(0);
  for (let i = 0; i < pressure.length; i += 1) {
    const p = pressure[i]!;
    const u = (p - middle) / half;
    const v = sag === 0 ? 0 : Math.max(0, sagSide * (u - knee));
    const bend = 1 + tilt * u + bow * u * u - sag * v * v;
    const share = full[i]!;
    const burning = amplitude * bend * share;
    into[i] = dark + burning;
    const row = i * n;
    if (discrepancy >= 0) {
      const first = discrepancy + cubicSplinesAt(knots, p, splines);
      for (let k = 0; k < splines.length; k += 1) {
        into[i]! += x[first + k]! * splines[k]!;
        if (slopes) slopes[row + first + k] = splines[k]!;
      }
    }
    if (!slopes) continue;
    slopes[row + amplitudeAt] = bend * share;
    if (darkAt >= 0) slopes[row + darkAt] = 1;
    if (tiltAt >= 0) slopes[row + tiltAt] = amplitude * u * share;
    if (bowAt >= 0) slopes[row + bowAt] = amplitude * u * u * share;
    if (sagAt >= 0) {
      slopes[row + sagAt] = -amplitude * v * v * share;
      slopes[row + kneeAt] = 2 * sagSide * amplitude * sag * v * share;
    }
    if (low) {
      const steep = burning * low.skew * (1 - rise[i]!);
      slopes[row + lowAt] = -steep * low.perWidth;
      slopes[row + lowWidthAt] = -steep * (p - low.at) * low.perWidth;
      if (lowSkew >= 0 && rise[i]! > 0) slopes[row + lowSkew] = burning * low.skew * logRise[i]!;
    }
    if (high) {
      const steep = burning * high.skew * (1 - fall[i]!);
      slopes[row + highAt] = steep * high.perWidth;
      slopes[row + highWidthAt] = -steep * (high.at - p) * high.perWidth;
      if (highSkew >= 0 && fall[i]! > 0) slopes[row + highSkew] = burning * high.skew * logFall[i]!;
    }
  }
  if (layout.clip >= 0) cutAtClip(x, layout, into, slopes, pressure.length);
}

/**
 * Cuts the first `m` levels off at the clip, softly, and their derivatives, row by row, with them; in place.
 */
export function cutAtClip(
  x: Float64Array,
  layout: Layout,
  level: Float64Array,
  slopes: Float64Array | undefined,
  m: number,
): void {
  const clip = x[layout.clip]!;
  const soft = exp(x[layout.softness]!);
  for (let i = 0; i < m; i += 1) {
    const below = clip - level[i]!;
    const z = below / soft;
    const cut = z > 30 ? below : soft * log(1 + exp(z));
    level[i] = clip - cut;
    if (!slopes) continue;
    const free = logistic(z);
    const row = i * layout.size;
    for (let j = 0; j < layout.size; j += 1) slopes[row + j]! *= free;
    slopes[row + layout.clip] = 1 - free;
    slopes[row + layout.softness] = below * free - cut;
  }
}

/**
 * The parameters of the same curve with a sharp clip, as a flame without flicker would give it. A copy where there is a clip.
 */
export function sharpClip(x: Float64Array, layout: Layout): Float64Array {
  if (layout.clip < 0) return x;
  const sharp = Float64Array.from(x);
  sharp[layout.softness] = log(1e-6 * Math.abs(x[layout.clip]!));
  return sharp;
}

const logistic = (z: number): number => 1 / (1 + exp(-z));
