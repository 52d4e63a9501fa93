import { isotonic as rising, unimodal } from '../../shared/numerics/isotonic.ts';
import { type Check, compareLists, reference } from './check.ts';

interface Inputs {
  unweighted: number[];
  weighted: { y: number[]; w: number[] };
  binomial: { k: number[]; n: number[] };
}

interface Expected {
  unweighted: number[];
  weighted: number[];
  binomial_p: number[];
  decreasing_unweighted: number[];
}

export const isotonic: Check[] = [
  {
    subject: 'Shape-constrained curve',
    name: 'Isotonic regression',
    of: 'isotonic, unimodal',
    source: 'R isoreg; pool-adjacent-violators in Python',
    origin: 'computed',
    file: 'isotonic',
    run: () => {
      const { inputs, expected, tolerance } = reference<Inputs, Expected>('isotonic');
      const { unweighted, weighted, binomial } = inputs;
      const tolerated = { absolute: tolerance['abs']! };
      const plain = Float64Array.from(unweighted);
      const ones = new Float64Array(plain.length).fill(1);
      const shares = Float64Array.from(binomial.k, (k, i) => k / binomial.n[i]!);
      // A curve that only falls is one that rises backwards; a fit that may rise and fall keeps it as it is.
      const falling = rising(plain.toReversed(), ones).toReversed();
      return [
        ...compareLists('plain', expected.unweighted, rising(plain, ones), tolerated),
        ...compareLists(
          'weighted',
          expected.weighted,
          rising(Float64Array.from(weighted.y), Float64Array.from(weighted.w)),
          tolerated,
        ),
        ...compareLists('shares', expected.binomial_p, rising(shares, Float64Array.from(binomial.n)), tolerated),
        ...compareLists('falling', expected.decreasing_unweighted, falling, tolerated),
        ...compareLists('falling, as unimodal', expected.decreasing_unweighted, unimodal(falling, ones), tolerated),
      ];
    },
  },
];
