/** Probability of `most` or fewer of `n` where each happens with probability `p`: the binomial distribution, summed up. */
export function atMost(most: number, n: number, p: number): number {
  let term = (1 - p) ** n;
  let sum = 0;
  for (let k = 0; k <= most; k += 1) {
    sum += term;
    term *= ((n - k) / (k + 1)) * (p / (1 - p));
  }
  return Math.min(1, sum);
}

/**
 * Which of several hypotheses are rejected with at most `level` for even one wrong rejection.
 * Source: Holm 1979, Scandinavian Journal of Statistics 6, 65: the smallest of m against level / m, the next against level / (m - 1)...
 */
export function rejectedByHolm(pValues: readonly number[], level: number): boolean[] {
  const order = pValues.map((_, i) => i).toSorted((a, b) => pValues[a]! - pValues[b]!);
  const rejected = pValues.map(() => false);
  for (const [rank, i] of order.entries()) {
    if (pValues[i]! > level / (pValues.length - rank)) break;
    rejected[i] = true;
  }
  return rejected;
}
