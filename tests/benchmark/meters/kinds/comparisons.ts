import { compare } from '../../../../shared/analysis/compare/compare.ts';
import { type ComparedQuantity, comparedQuantities } from '../../../../shared/model/results/analysis-result.ts';
import type { Capture } from '../../../../shared/model/capture.ts';
import { type Draws, drawsOf, fileOf, plainFacts, sweepOf, withValues } from '../draw.ts';
import type { CaseVerdict, MeterKind } from '../kind.ts';
import type { SweepFacts } from '../../sweep/simulate.ts';

const capture = (facts: SweepFacts, draws: Draws): Capture => fileOf(sweepOf(facts, draws).readings);

/** Whether a comparison calls nothing changed of what did not change. */
function nothingOf(quantities: readonly ComparedQuantity[], before: Capture, after: Capture): CaseVerdict {
  const outcome = compare(before, after);
  if (!outcome.ok) return { good: false, found: outcome.fault.code };
  const changed = quantities.filter((quantity) => outcome.value.result[quantity].significant);
  return { good: changed.length === 0, found: changed.join(' ') };
}

/** Whether a comparison finds the scatter risen. */
function scatterFound(before: Capture, after: Capture): CaseVerdict {
  const outcome = compare(before, after);
  if (!outcome.ok) return { good: false, found: outcome.fault.code };
  const { noise } = outcome.value.result;
  return { good: noise.significant && noise.change! > 0, found: noise.significant ? '' : 'not found' };
}

/** A pair in either order: what misleads may have been there at the earlier visit or at the later. */
const inEitherOrder = (draws: Draws, plain: Capture, other: Capture): [Capture, Capture] =>
  draws.oneOf([true, false]) ? [plain, other] : [other, plain];

/** A cold detector: the signal rises to its level with a time constant. */
function coldDetector(seed: number): CaseVerdict {
  const draws = drawsOf(seed, 1);
  const facts = plainFacts(draws);
  const [depth, warmS] = [draws.between(0.03, 0.12), draws.between(40, 200)];
  const cold = withValues(
    sweepOf(facts, draws).readings,
    'flame_signal',
    (value, t) => value * (1 - depth * Math.exp(-t / warmS)),
  );
  return nothingOf(comparedQuantities, ...inEitherOrder(draws, capture(facts, draws), fileOf(cold)));
}

/** A manometer whose damping was turned on before one of the visits. */
function dampedManometer(seed: number): CaseVerdict {
  const draws = drawsOf(seed, 2);
  const facts = plainFacts(draws);
  const damped = { ...facts, manometerLagS: facts.manometerLagS + draws.between(0.5, 1.5) };
  return nothingOf(['lag'], ...inEitherOrder(draws, capture(facts, draws), capture(damped, draws)));
}

/** White noise of the signal, correlated by a first-order filter of the meter or not, some times larger at the second visit. */
const scatterPair = (seed: number, salt: number, times: number): [Capture, Capture] => {
  const draws = drawsOf(seed, salt);
  const facts = plainFacts(draws);
  const correlationS = draws.oneOf([0, 0.3, 1]);
  const deviation = draws.between(0.01, 0.04);
  const noisy = (size: number) => {
    let [noise, last] = [0, 0];
    const readings = withValues(sweepOf({ ...facts, white: 0.002 }, draws).readings, 'flame_signal', (value, t) => {
      const keep = correlationS === 0 ? 0 : Math.exp(-(t - last) / correlationS);
      noise = keep * noise + Math.sqrt(1 - keep * keep) * draws.random.normal();
      last = t;
      return Math.round((value + size * noise) / facts.digits.signal) * facts.digits.signal;
    });
    return fileOf(readings);
  };
  return [noisy(deviation), noisy(times * deviation)];
};

export const comparisonKinds: MeterKind[] = [
  {
    name: 'compare: cold detector at one visit',
    wanted: 'nothing called changed',
    least: 0.95,
    judge: coldDetector,
  },
  {
    name: 'compare: damped manometer at one visit',
    wanted: 'lag not called changed',
    least: 0.95,
    judge: dampedManometer,
  },
  {
    name: 'compare: noise 2.5 times larger',
    wanted: 'found',
    least: 0.9,
    judge: (seed) => scatterFound(...scatterPair(seed, 3, 2.5)),
  },
  {
    name: 'compare: noise as before',
    wanted: 'nothing called changed',
    least: 0.95,
    judge: (seed) => nothingOf(comparedQuantities, ...scatterPair(seed, 4, 1)),
  },
];
