import type { DarkStretch } from '../sweep/flame/flame-loss.ts';
import { cutOff, type MeterRange } from '../sweep/meter-faults/meter-range.ts';
import { aicc } from './aicc.ts';
import { chooseShape, type ShapeChoice } from './choose-shape.ts';
import type { FitData } from './fit-data.ts';
import type { CurveFit } from './fit-shape.ts';
import { createPredictor } from './predict-signal.ts';
import { devianceOf, levelsOf } from './signal-noise.ts';

/** What may be the ends of the meter's range; known where the meter reported an overload. */
export interface RangeQuestion {
  suspected: MeterRange;
  isKnown: boolean;
}

/** AICc must fall by this much: a plateau that is only quiet looks like the top of a range (Burnham and Anderson 2002, 2.6). */
const handicap = 15;

/**
 * Chooses the shape of the curve, and whether the signal went on beyond the ends of the meter's range: then readings there are censored, and
 * the shoulder is that of the readings between. Both answers are judged by those readings alone, since a value that the meter
 * cannot leave says nothing for either.
 *
 * @param data           with no range
 * @param darkStretches  candidates for a loss of flame
 */
export function chooseRange(
  data: FitData,
  darkStretches: DarkStretch[],
  { suspected, isKnown }: RangeQuestion,
): ShapeChoice & { range: MeterRange } {
  const choose = (range: MeterRange) => ({ ...chooseShape({ ...data, range }, darkStretches), range });
  if (isKnown) return choose(suspected);
  const plain = choose({});
  if (suspected.top === undefined && suspected.bottom === undefined) return plain;
  const cut = choose(suspected);
  const effectiveSize = Math.max(data.signal.value.length / 8, plain.fit.effectiveSize, cut.fit.effectiveSize);
  const criterion = (fit: CurveFit) => aicc(devianceBetween(data, suspected, fit), fit.layout.size + 2, effectiveSize);
  return criterion(cut.fit) + handicap < criterion(plain.fit) ? cut : plain;
}

/** -2 log likelihood of the readings that do not stand at an end of the range, per reading of all. */
function devianceBetween(data: FitData, range: MeterRange, { layout, fit }: CurveFit): number {
  const { signal, initial } = data;
  const predicted = new Float64Array(signal.value.length);
  createPredictor(data, layout).predict(fit.parameters, predicted);
  const beyond = cutOff(signal, range);
  const residual = signal.value.map((value, i) => (beyond[i] === 0 ? value - predicted[i]! : Number.NaN));
  return devianceOf(residual, predicted, levelsOf(fit.parameters, layout, initial, range));
}
