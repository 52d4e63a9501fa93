import { exp } from '../../numerics/elementary.ts';
import type { Layout } from './shape.ts';

/**
 * Seconds of first-order lag: the parameter is the square root of what is above a quarter of the grid's step, so that it
 * cannot be less than a meter averages over.
 */
export const firstOrderLag = (x: Float64Array, layout: Layout, stepS: number) => x[layout.lagRoot]! ** 2 + stepS / 4;

/** Gains of a first-order lag over one step for an input that is linear in between, and their derivatives by the lag. */
export function lagGains(lag: number, stepS: number) {
  const ratio = lag / stepS;
  const keep = ratio > 1e-9 ? exp(-1 / ratio) : 0;
  const now = 1 - ratio * (1 - keep);
  const keepSlope = keep > 0 ? keep / (ratio * ratio * stepS) : 0;
  const nowSlope = ratio * keepSlope - (1 - keep) / stepS;
  return { keep, now, before: 1 - keep - now, keepSlope, nowSlope, beforeSlope: -keepSlope - nowSlope };
}
