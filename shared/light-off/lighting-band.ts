import type { LightingModels } from './lighting.ts';
import { plainPressures, probabilityAt } from './lighting-model.ts';

/** The estimate over the pressures tried with the spark at once, side by side; NaN between the sides. */
export interface LightingBand {
  pressure: Float64Array;
  probability: Float64Array;
  low: Float64Array;
  high: Float64Array;
}

/** Steps in which the band of a side is computed; a logistic curve bends little in between. */
const bandSteps = 16;

/**
 * The band of the model over pressure with the spark at once, from the lowest to the highest pressure tried so on each side.
 *
 * @param confidence  of the intervals, as in `probabilityAt`
 */
export function lightingBand(models: LightingModels, confidence: number): LightingBand {
  const columns: number[][] = [];
  for (const model of [models.low, models.high]) {
    const tried = model ? plainPressures(model) : [];
    const [lowest, highest] = [tried[0], tried.at(-1)];
    if (!model || lowest === undefined || highest === undefined) continue;
    if (columns.length > 0) columns.push([NaN, NaN, NaN, NaN]);
    const steps = highest > lowest ? bandSteps : 0;
    for (let i = 0; i <= steps; i += 1) {
      const pressure = i === steps ? highest : lowest + (i / steps) * (highest - lowest);
      const found = probabilityAt(model, pressure, 0, confidence);
      if (found) columns.push([pressure, found.probability, ...found.interval]);
    }
  }
  const column = (i: number) => Float64Array.from(columns, (row) => row[i]!);
  return { pressure: column(0), probability: column(1), low: column(2), high: column(3) };
}
