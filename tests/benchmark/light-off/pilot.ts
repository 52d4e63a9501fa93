import type { Random } from '../../../shared/numerics/random.ts';

/** How the probability to light falls off beyond an end, from 1 far inside to 0 far outside; `z` in widths beyond the end. */
const shapes = {
  logistic: (z: number) => 1 / (1 + Math.exp(z)),
  // Faster to nothing than to certainty.
  'log-log': (z: number) => 1 - Math.exp(-Math.exp(-z)),
  step: (z: number) => (z < 0 ? 1 : 0),
} as const;
export const pilotShapes = Object.keys(shapes) as (keyof typeof shapes)[];

/** A pilot by definition, inH2O and seconds. */
export interface Pilot {
  shape: keyof typeof shapes;
  low: number;
  high: number;
  /** Probability to light at a pressure with the spark so long after the gas. */
  lights: (pressure: number, delayS: number) => number;
}

/**
 * Draws a pilot about a setting of 2.4: ends anywhere from close to it to beyond the limits, sharp or gradual, flooded by some thousandths
 * to tenths of inH2O a second of unlit gas; one in five does not light once in fifty times for no reason of pressure.
 */
export function drawPilot(random: Random): Pilot {
  const shape = pilotShapes[Math.floor(pilotShapes.length * random.uniform())]!;
  const low = 0.6 + 1.5 * random.uniform();
  const high = 2.7 + 1.8 * random.uniform();
  const width = 0.02 + 0.15 * random.uniform();
  const floodPerS = 0.12 * random.uniform() ** 2;
  const base = random.uniform() < 0.2 ? 0.98 : 1;
  const fall = shapes[shape];
  return {
    shape,
    low,
    high,
    lights: (pressure, delayS) =>
      base * fall((low - pressure) / width) * fall((pressure - (high - floodPerS * delayS)) / width),
  };
}
