import { exp } from '../model/elementary.ts';

/** What a steady-state curve may be made of; each true part adds its parameters. */
export interface Shape {
  lowShoulder: boolean;
  highShoulder: boolean;
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
  high: number;
  highWidth: number;
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
  const high = place(shape.highShoulder);
  const highWidth = place(shape.highShoulder);
  const tilt = place(shape.bend > 0);
  const bow = place(shape.bend > 1);
  const clip = place(shape.clipped);
  const flameOut = place(shape.flameOuts > 0, 2 * shape.flameOuts);
  return { size, amplitude, dark, low, lowWidth, high, highWidth, tilt, bow, clip, lag, slowness, flameOut };
}

/** Middle and half width of the tested pressures: the scale on which the plateau may tilt and bow. */
export interface TestedScale {
  middle: number;
  half: number;
}

/**
 * Steady signal of a burning flame at each pressure:
 * min(clip, dark + A (1 + tilt u + bow u^2) L((p - low)/w) L((high - p)/w)), L the logistic function, u the pressure on
 * the tested scale. Widths are kept as logarithms so that they stay positive.
 */
export function curveAt(
  x: Float64Array,
  layout: Layout,
  scale: TestedScale,
  pressure: Float64Array,
  into: Float64Array,
): void {
  const amplitude = x[layout.amplitude]!;
  const dark = layout.dark < 0 ? 0 : x[layout.dark]!;
  const hasLow = layout.low >= 0;
  const hasHigh = layout.high >= 0;
  const low = hasLow ? x[layout.low]! : 0;
  const perLow = hasLow ? exp(-x[layout.lowWidth]!) : 0;
  const high = hasHigh ? x[layout.high]! : 0;
  const perHigh = hasHigh ? exp(-x[layout.highWidth]!) : 0;
  const tilt = layout.tilt < 0 ? 0 : x[layout.tilt]!;
  const bow = layout.bow < 0 ? 0 : x[layout.bow]!;
  const clip = layout.clip < 0 ? Infinity : x[layout.clip]!;
  for (let i = 0; i < pressure.length; i += 1) {
    const p = pressure[i]!;
    let s = amplitude;
    if (hasLow) s /= 1 + exp((low - p) * perLow);
    if (hasHigh) s /= 1 + exp((p - high) * perHigh);
    if (tilt !== 0 || bow !== 0) {
      const u = (p - scale.middle) / scale.half;
      s *= 1 + tilt * u + bow * u * u;
    }
    s += dark;
    into[i] = s < clip ? s : clip;
  }
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
    ...(shape.bend > 0 ? [shape.bend > 1 ? 'a bowed plateau' : 'a tilted plateau'] : []),
    ...(shape.clipped ? ['a clipped plateau'] : []),
    ...(shape.flameOuts > 0 ? ['the flame lost'] : []),
  ].join(', ');
}
