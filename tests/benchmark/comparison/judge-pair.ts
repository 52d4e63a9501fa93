import { compare } from '../../../shared/analysis/compare/compare.ts';
import { type ComparedQuantity, comparedQuantities } from '../../../shared/model/results/analysis-result.ts';
import { createRandom, type Random } from '../../../shared/numerics/random.ts';
import { drawSweep, type Kind } from '../sweep/kinds.ts';
import { captureOf, simulateSweep, type SweepFacts } from '../sweep/simulate.ts';
import { type Change, changes } from './changes.ts';

/** One pair of sweeps to simulate and compare. */
export interface PairTask {
  kind: Kind;
  change: Change['name'];
  seed: number;
}

/** How a comparison agrees with what was changed. */
export interface PairVerdict extends PairTask {
  /** Why there is no comparison. */
  refused?: string;
  /** What was called changed. */
  significant: ComparedQuantity[];
  /** The changed quantity was called changed, in the right direction. */
  found: boolean;
  /** Whether each interval holds the true change, where the truth of it is known. */
  held: Partial<Record<ComparedQuantity, boolean>>;
}

/**
 * Compares two visits to one burner: the second with another motion of the regulator, other meter rates, fresh noise, and one
 * change.
 */
export function run({ kind, change: name, seed }: PairTask): PairVerdict {
  const { facts, capture } = drawSweep(kind, seed);
  const change = changes.find((each) => each.name === name)!;
  const random = createRandom((seed * 613 + changes.indexOf(change) * 7 + 1) >>> 0);
  const changed = structuredClone(facts);
  change.make(changed);
  const visit = (facts: SweepFacts) =>
    captureOf(simulateSweep(facts, Math.floor(2 ** 31 * random.uniform())).readings, capture.setup);
  const outcome = compare(visit(anotherVisit(facts, random)), visit(anotherVisit(changed, random)));
  if (!outcome.ok)
    return { kind, change: name, seed, refused: outcome.fault.code, significant: [], found: false, held: {} };
  const { result } = outcome.value;
  const significant = comparedQuantities.filter((quantity) => result[quantity].significant);
  const truth = change.truth(facts);
  const held = Object.fromEntries(
    comparedQuantities.flatMap((quantity) => {
      const [by, ci] = [truth[quantity], result[quantity].ci];
      return by === undefined || !ci ? [] : [[quantity, ci[0] <= by && by <= ci[1]]];
    }),
  );
  const { quantity } = change;
  const found =
    quantity !== undefined &&
    significant.includes(quantity) &&
    Math.sign(result[quantity].change!) === Math.sign(change.direction);
  return { kind, change: name, seed, significant, found, held };
}

/** The same burner and meters another day: the regulator is turned at another speed, a little further, and rates differ. */
function anotherVisit(facts: SweepFacts, random: Random): SweepFacts {
  const between = (a: number, b: number) => a + (b - a) * random.uniform();
  const oneOf = (values: number[]) => values[Math.floor(values.length * random.uniform())]!;
  return {
    ...facts,
    speed: facts.speed * between(0.7, 1.4),
    tested: [facts.tested[0] - between(0, 0.1), facts.tested[1] + between(0, 0.1)],
    manometerHz: oneOf([5, 10]),
    signalHz: facts.selfCheck ? oneOf([5, 10]) : oneOf([2, 4, 5, 10]),
  };
}
