import { formatPercent } from '../../../model/format.ts';
import { splineCount } from '../../../numerics/b-spline.ts';
import type { MeterRange } from '../../sweep/meter-faults/meter-range.ts';

/** How the plateau runs between the shoulders; a sag begins at a knee and bends down toward one side only. */
export const bends = ['level', 'tilted', 'bowed', 'sags-low', 'sags-high'] as const;

export type Bend = (typeof bends)[number];

/**
 * How far a curve may leave its shoulders and its plateau where the readings do: a cubic spline on top of them.
 * Source of the term: Kennedy and O'Hagan 2001, J. Royal Stat. Soc. B 63, 425 (model discrepancy).
 */
export interface Discrepancy {
  /** Of the spline, rising, in the sweep's unit of pressure. */
  knots: Float64Array;
  /** Expected size of each of its coefficients, as a share of the plateau. */
  size: number;
}

/** What a steady-state curve may be made of; each true part adds its parameters. */
export interface Shape {
  lowShoulder: boolean;
  highShoulder: boolean;
  /** The shoulders whose top is rounded more or less than their foot. */
  skew: { low: boolean; high: boolean };
  bend: Bend;
  /** The amplifier clips the signal at its maximum: before the detector's lag, or behind it, where a flame above the clip falls later. */
  clipped: false | 'before-lag' | 'behind-lag';
  /** How many times the flame was lost during the sweep. */
  flameLosses: number;
  discrepancy?: Discrepancy;
}

/**
 * Index of each parameter in the parameter vector of a shape; -1: the shape does not have it. What each means: `curveAt`,
 * `lag.ts`.
 */
export interface Layout {
  /** Length of the vector. */
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
  sag: number;
  knee: number;
  clip: number;
  clipsBehindLag: boolean;
  softness: number;
  lag: number;
  lagRoot: number;
  /** Side to which the plateau sags: -1 low, 1 high. */
  sagSide: -1 | 1;
  /** First coefficient of the discrepancy; its knots, none where there is none. */
  discrepancy: number;
  knots: Float64Array;
  /** First of two for each flame loss: when it was lost and when it burned again, seconds. */
  flameLoss: number;
}

/** The places of the parameters that a shape has. */
export function layoutOf(shape: Shape): Layout {
  let size = 0;
  const place = (present: boolean, count = 1) => {
    if (!present) return -1;
    size += count;
    return size - count;
  };
  const amplitude = place(true);
  const lag = place(true);
  const lagRoot = place(true);
  const dark = place(shape.lowShoulder || shape.highShoulder || shape.flameLosses > 0);
  const low = place(shape.lowShoulder);
  const lowWidth = place(shape.lowShoulder);
  const lowSkew = place(shape.lowShoulder && shape.skew.low);
  const high = place(shape.highShoulder);
  const highWidth = place(shape.highShoulder);
  const highSkew = place(shape.highShoulder && shape.skew.high);
  const tilt = place(shape.bend === 'tilted' || shape.bend === 'bowed');
  const bow = place(shape.bend === 'bowed');
  const sags = shape.bend === 'sags-low' || shape.bend === 'sags-high';
  const sag = place(sags);
  const knee = place(sags);
  const clip = place(shape.clipped !== false);
  const softness = place(shape.clipped !== false);
  const knots = shape.discrepancy?.knots ?? new Float64Array(0);
  const discrepancy = place(knots.length > 0, splineCount(knots));
  const flameLoss = place(shape.flameLosses > 0, 2 * shape.flameLosses);
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
    sag,
    knee,
    sagSide: shape.bend === 'sags-low' ? -1 : 1,
    clip,
    clipsBehindLag: shape.clipped === 'behind-lag',
    softness,
    lag,
    lagRoot,
    discrepancy,
    knots,
    flameLoss,
  };
}

const bendNames: Record<Exclude<Bend, 'level'>, string> = {
  tilted: 'a tilted plateau',
  bowed: 'a bowed plateau',
  'sags-low': 'a plateau that sags to the low side',
  'sags-high': 'a plateau that sags to the high side',
};

/** Names the shape for people, and what the meter's range hides of it, e.g. "two shoulders, a tilted plateau". */
export function describeShape(shape: Shape, range: MeterRange): string {
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
    ...(shape.bend === 'level' ? [] : [bendNames[shape.bend]]),
    ...(shape.clipped || range.top !== undefined ? ['a clipped plateau'] : []),
    ...(range.bottom === undefined ? [] : ['a foot below the range of the meter']),
    ...(shape.flameLosses > 0 ? ['the flame lost'] : []),
    ...(shape.discrepancy
      ? [`a smooth correction of about ${formatPercent(shape.discrepancy.size, 1)} of the plateau`]
      : []),
  ].join(', ');
}
