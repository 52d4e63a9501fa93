import type { Lighting, LightingSide } from '../model/results/lighting.ts';
import { convertPressure, type PressureUnit } from '../model/units.ts';
import { comparedDelay, type CountedTrial } from './at-setting.ts';
import {
  fallsOff,
  fitLighting,
  type LightingModel,
  plainPressures,
  probabilityAt,
  reachOf,
  type TriedPoint,
} from './lighting-model.ts';

/** Both sides as models, and the trials that they are made from. */
export interface LightingModels {
  tried: TriedPoint[];
  leftOut: number;
  low: LightingModel | undefined;
  high: LightingModel | undefined;
}

/**
 * Splits the trials at the pressure that lit nearest to `center` and fits each side; what was tried within the tolerance of that pressure
 * tells of both.
 *
 * @param trials     judged and valid
 * @param isSteady   whether the pressure stood still in a trial that lit
 * @param center     in `unit`: the pressure as left, else the middle of the good signal
 */
export function fitBothSides(
  trials: readonly CountedTrial[],
  isSteady: (trial: CountedTrial) => boolean,
  { unit, center, toleranceAt }: { unit: PressureUnit; center: number; toleranceAt: (pressure: number) => number },
): LightingModels {
  const tried = trials.flatMap((trial): TriedPoint[] => {
    const { pressure, unit: own, sparkDelayS, lit } = trial;
    if (sparkDelayS === undefined || (lit && !isSteady(trial))) return [];
    return [{ pressure: convertPressure(pressure, own, unit), delayS: comparedDelay(sparkDelayS), lit }];
  });
  const lit = tried.filter((trial) => trial.lit).map(({ pressure }) => pressure);
  const middle = lit.reduce((a, b) => (Math.abs(b - center) < Math.abs(a - center) ? b : a), lit[0] ?? center);
  const tolerance = toleranceAt(middle);
  const low = tried.filter(({ pressure }) => pressure <= middle + tolerance);
  const high = tried.filter(({ pressure }) => pressure >= middle - tolerance);
  return {
    tried,
    leftOut: trials.length - tried.length,
    low: fitLighting(low, 'low'),
    high: fitLighting(high, 'high'),
  };
}

/** What the models say at the pressures that were tried. */
export function lightingOf(models: LightingModels, wanted: number, confidence: number): Lighting {
  const side = (name: 'low' | 'high') => {
    const model = models[name];
    return model && { [name]: sideOf(model, wanted, confidence) };
  };
  return { wanted, leftOut: models.leftOut, ...side('low'), ...side('high') };
}

function sideOf(model: LightingModel, wanted: number, confidence: number): LightingSide {
  const { trials } = model;
  const pressures = trials.map(({ pressure }) => pressure);
  const falls = fallsOff(model, confidence);
  const reach = falls ? reachOf(model, wanted) : undefined;
  return {
    trials: trials.length,
    lit: trials.filter(({ lit }) => lit).length,
    tried: [Math.min(...pressures), Math.max(...pressures)],
    estimates: apart(plainPressures(model)).flatMap((pressure) => {
      const found = probabilityAt(model, pressure, 0, confidence);
      return found ? [{ pressure, probability: found.probability, ci: found.interval }] : [];
    }),
    fallsOff: falls,
    ...(reach !== undefined && { reach }),
  };
}

/** Those that lie at least a twentieth of the whole range apart, lowest and highest among them. */
function apart(sorted: readonly number[]): number[] {
  const [lowest, highest] = [sorted[0], sorted.at(-1)];
  if (lowest === undefined || highest === undefined) return [];
  const least = (highest - lowest) / 20;
  const kept = [lowest];
  for (const pressure of sorted)
    if (pressure - kept.at(-1)! >= least && highest - pressure >= least && pressure > kept.at(-1)!) kept.push(pressure);
  return highest > lowest ? [...kept, highest] : kept;
}
