import { exp } from '../../../numerics/elementary.ts';
import { aiccOf } from '../../curve/aicc.ts';
import type { ShapeChoice } from '../../curve/choose-shape.ts';
import type { CurveFit } from '../../curve/fit-shape.ts';
import { type CurveEnds, findCurveEnds, sampleCurve } from './curve-ends.ts';
import { plotPressures } from './signal-interval.ts';

/** Standard uncertainties that the choice among shapes leaves: of the ends, in pressure, and of the plateau, in signal. */
export interface BetweenShapes {
  low: number;
  high: number;
  plateau: number;
}

/** A shape whose AICc is larger by more than this has essentially no support (Burnham and Anderson 2002, 2.6). */
const unsupported = 10;

/**
 * How far ends and plateau of the other shapes that the readings support lie from those of the chosen one: root mean square, each shape
 * weighted by its support. The interval of the chosen shape alone would take that shape for certain.
 * Source: Buckland, Burnham and Augustin 1997, Biometrics 53, 603 (variance between models with Akaike weights).
 *
 * @param choice   on the coarse sweep; shapes with other losses of flame, or clipped where it is not, have other ends by their kind
 * @param tested   lowest and highest tested pressure, in the sweep's unit
 * @param minimum  minimum signal, undefined where none is asked for
 */
export function betweenShapes(
  { fit: chosen, tried }: ShapeChoice,
  tested: readonly [number, number],
  dropFraction: number,
  minimum: number | undefined,
): BetweenShapes {
  const fits = tried.filter(
    ({ shape }) => shape.flameLosses === chosen.shape.flameLosses && shape.clipped === chosen.shape.clipped,
  );
  if (!fits.includes(chosen)) return { low: 0, high: 0, plateau: 0 };
  const criteria = aiccOf(fits);
  const smallest = Math.min(...criteria);
  const pressure = plotPressures(tested);
  const endsOf = (fit: CurveFit) =>
    findCurveEnds(sampleCurve(fit, pressure), [-Infinity, Infinity], dropFraction, minimum);
  const supported = fits.flatMap((fit, i) => {
    const excess = criteria[i]! - smallest;
    return excess > unsupported ? [] : [{ ends: endsOf(fit), weight: exp(-excess / 2) }];
  });
  const own = endsOf(chosen);
  const spread = (of: (ends: CurveEnds) => number | undefined) => {
    const center = of(own);
    if (center === undefined) return 0;
    let [sum, total] = [0, 0];
    for (const { ends, weight } of supported) {
      const value = of(ends);
      if (value === undefined) continue;
      sum += weight * (value - center) ** 2;
      total += weight;
    }
    return total > 0 ? Math.sqrt(sum / total) : 0;
  };
  return {
    low: spread(({ low }) => (low?.bounded ? low.value : undefined)),
    high: spread(({ high }) => (high?.bounded ? high.value : undefined)),
    plateau: spread(({ plateau }) => plateau),
  };
}
