import { exp, log } from '../model/elementary.ts';

/** What a steady-state curve may be made of; each true part adds its parameters. */
export interface Shape {
  lowShoulder: boolean;
  highShoulder: boolean;
  /** The shoulders that are rounded more at one end than at the other. */
  skew: { low: boolean; high: boolean };
  /** 0: level plateau, 1: tilted, 2: bowed. */
  bend: 0 | 1 | 2;
  /** The amplifier clips at a highest signal. */
  clipped: boolean;
  /** How many times the flame was lost during the sweep. */
  flameOuts: number;
}

/** Where each parameter stands in the vector. -1: the shape does not have it. */
export interface Layout {
  size: number;
  amplitude: number;
  dark: number;
  low: number;
  lowWidth: number;
  lowSkew: number;
  high: number;
  highWidth: number;
  highSkew: number;
  tilt: number;
  bow: number;
  clip: number;
  lag: number;
  slowness: number;
  /** Two for each flame-out: when it was lost and when it burnt again, seconds. */
  flameOut: number;
}

export function layoutOf(shape: Shape): Layout {
  let size = 0;
  const place = (present: boolean, count = 1) => {
    if (!present) return -1;
    size += count;
    return size - count;
  };
  const amplitude = place(true);
  const lag = place(true);
  const slowness = place(true);
  const dark = place(shape.lowShoulder || shape.highShoulder || shape.flameOuts > 0);
  const low = place(shape.lowShoulder);
  const lowWidth = place(shape.lowShoulder);
  const lowSkew = place(shape.lowShoulder && shape.skew.low);
  const high = place(shape.highShoulder);
  const highWidth = place(shape.highShoulder);
  const highSkew = place(shape.highShoulder && shape.skew.high);
  const tilt = place(shape.bend > 0);
  const bow = place(shape.bend > 1);
  const clip = place(shape.clipped);
  const flameOut = place(shape.flameOuts > 0, 2 * shape.flameOuts);
  return {
    size,
    amplitude,
    dark,
    low,
    lowWidth,
    lowSkew,
    high,
    highWidth,
    highSkew,
    tilt,
    bow,
    clip,
    lag,
    slowness,
    flameOut,
  };
}

/** Middle and half width of the tested pressures: the scale on which the plateau may tilt and bow. */
export interface TestedScale {
  middle: number;
  half: number;
}

/**
 * Steady signal of a burning flame at each pressure:
 * min(clip, dark + A (1 + tilt u + bow u^2) L((p - low)/w)^k L((high - p)/w)^k), L the logistic function, u the pressure on
 * the tested scale. Widths and the skews k are kept as logarithms so that they stay positive; a skew other than 1 rounds
 * the top of a shoulder more or less than its foot (generalised logistic: Richards 1959, J. Exp. Botany 10, 290).
 *
 * @param slopes  when given, receives the derivative by each parameter: `layout.size` numbers a pressure, row by row; those
 *                by the lag, the slowness and the flame-outs are left at 0
 */
export function curveAt(
  x: Float64Array,
  layout: Layout,
  scale: TestedScale,
  pressure: Float64Array,
  into: Float64Array,
  slopes?: Float64Array,
): void {
  const n = layout.size;
  const amplitude = x[layout.amplitude]!;
  const dark = layout.dark < 0 ? 0 : x[layout.dark]!;
  const low = shoulderAt(x, layout.low, layout.lowWidth, layout.lowSkew);
  const high = shoulderAt(x, layout.high, layout.highWidth, layout.highSkew);
  const tilt = layout.tilt < 0 ? 0 : x[layout.tilt]!;
  const bow = layout.bow < 0 ? 0 : x[layout.bow]!;
  const clip = layout.clip < 0 ? Infinity : x[layout.clip]!;
  slopes?.fill(0);
  for (let i = 0; i < pressure.length; i += 1) {
    const p = pressure[i]!;
    const u = (p - scale.middle) / scale.half;
    const bend = 1 + tilt * u + bow * u * u;
    const rise = low ? logistic((p - low.at) * low.perWidth) : 1;
    const fall = high ? logistic((high.at - p) * high.perWidth) : 1;
    const risen = low && low.skew !== 1 ? exp(low.skew * log(rise)) : rise;
    const fallen = high && high.skew !== 1 ? exp(high.skew * log(fall)) : fall;
    const burning = amplitude * bend * risen * fallen;
    const level = dark + burning;
    into[i] = level < clip ? level : clip;
    if (!slopes) continue;
    const row = i * n;
    if (level >= clip) {
      slopes[row + layout.clip] = 1;
      continue;
    }
    slopes[row + layout.amplitude] = bend * risen * fallen;
    if (layout.dark >= 0) slopes[row + layout.dark] = 1;
    if (layout.tilt >= 0) slopes[row + layout.tilt] = amplitude * u * risen * fallen;
    if (layout.bow >= 0) slopes[row + layout.bow] = amplitude * u * u * risen * fallen;
    if (low) {
      const steep = burning * low.skew * (1 - rise);
      slopes[row + layout.low] = -steep * low.perWidth;
      slopes[row + layout.lowWidth] = -steep * (p - low.at) * low.perWidth;
      if (layout.lowSkew >= 0 && rise > 0) slopes[row + layout.lowSkew] = burning * low.skew * log(rise);
    }
    if (high) {
      const steep = burning * high.skew * (1 - fall);
      slopes[row + layout.high] = steep * high.perWidth;
      slopes[row + layout.highWidth] = -steep * (high.at - p) * high.perWidth;
      if (layout.highSkew >= 0 && fall > 0) slopes[row + layout.highSkew] = burning * high.skew * log(fall);
    }
  }
}

const logistic = (z: number): number => 1 / (1 + exp(-z));

function shoulderAt(x: Float64Array, at: number, width: number, skew: number) {
  if (at < 0) return undefined;
  return { at: x[at]!, perWidth: exp(-x[width]!), skew: skew < 0 ? 1 : exp(x[skew]!) };
}

/** The shape in words for people. */
export function shapeInWords(shape: Shape): string {
  const shoulders =
    shape.lowShoulder && shape.highShoulder
      ? 'two shoulders'
      : shape.lowShoulder
        ? 'a low shoulder only'
        : shape.highShoulder
          ? 'a high shoulder only'
          : 'no shoulder';
  return [
    shoulders,
    ...((shape.skew.low && shape.lowShoulder) || (shape.skew.high && shape.highShoulder) ? ['rounded unevenly'] : []),
    ...(shape.bend > 0 ? [shape.bend > 1 ? 'a bowed plateau' : 'a tilted plateau'] : []),
    ...(shape.clipped ? ['a clipped plateau'] : []),
    ...(shape.flameOuts > 0 ? ['the flame lost'] : []),
  ].join(', ');
}
