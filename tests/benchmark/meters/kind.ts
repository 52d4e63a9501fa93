/** What became of one case: whether the answer was as it should be, and what it was, in a few words. */
export interface CaseVerdict {
  good: boolean;
  found: string;
}

/** One thing that can happen at the burner or to its meters, with what a right answer to it is. */
export interface MeterKind {
  name: string;
  /** What a right answer is, in words. */
  wanted: string;
  /** Least share of right answers, 0 to 1. */
  least: number;
  /** Draws a case from the seed, asks the analysis, and judges the answer by the definitions. */
  judge: (seed: number) => CaseVerdict;
}
