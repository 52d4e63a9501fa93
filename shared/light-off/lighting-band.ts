import type { LightingModels } from './lighting.ts';
import { type LightingModel, plainPressures, probabilityAt } from './lighting-model.ts';

/** The estimate over the pressures tried with the spark at once, side by side; NaN between the sides. */
export interface LightingBand {
  pressure: Float64Array;
  probability: Float64Array;
  low: Float64Array;
  high: Float64Array;
}

/** Steps in which the band of a side is computed; a logistic curve bends little in between. */
const bandSteps = 16;

function sideColumns(model: LightingModel, confidence: number): number[][] {
  const tried = plainPressures(model);
  const [lowest, highest] = [tried[0], tried.at(-1)];
  if (lowest === undefined || highest === undefined) return [];
  const steps = highest > lowest ? bandSteps : 0;
  return Array.from({ length: steps + 1 }, (_, i) =>
    i === steps ? highest : lowest + (i / steps) * (highest - lowest),
  ).flatMap((pressure) => {
    const found = probabilityAt(model, pressure, 0, confidence);
    return found ? [[pressure, found.probability, ...found.interval]] : [];
  });
}

/**
 * The band of the model over pressure with the spark at once, from the lowest to the highest pressure tried so on each side; none on a side
 * where the model claims nothing.
 *
 * @param confidence  of the intervals, as in `probabilityAt`
 */
export function lightingBand(models: LightingModels, confidence: number): LightingBand {
  const [low, high] = [models.low, models.high].map((model) => (model ? sideColumns(model, confidence) : []));
  const columns = [...low!, ...(low!.length > 0 && high!.length > 0 ? [[NaN, NaN, NaN, NaN]] : []), ...high!];
  const column = (i: number) => Float64Array.from(columns, (row) => row[i]!);
  return { pressure: column(0), probability: column(1), low: column(2), high: column(3) };
}
