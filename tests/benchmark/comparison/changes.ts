import type { ComparedQuantity } from '../../../shared/model/results/analysis-result.ts';
import type { SweepFacts } from '../sweep/simulate.ts';

/** A change of the burner between two visits. */
export interface Change {
  name: string;
  /** The quantity that it changes most plainly, and in which direction; undefined: nothing is changed. */
  quantity?: ComparedQuantity;
  direction: 1 | -1;
  make: (facts: SweepFacts) => void;
  /** True change of each quantity, as far as it follows from what was done. */
  truth: (before: SweepFacts) => Partial<Record<ComparedQuantity, number>>;
}

const noChange = { lowEdge: 0, highEdge: 0, plateau: 0, windowWidth: 0, lag: 0 };

export const unchanged: Change = {
  name: 'nothing',
  direction: 1,
  make: () => undefined,
  truth: () => ({ ...noChange, noise: 0 }),
};

const lowEdge = (by: number): Change => ({
  name: `low end up ${by} inH2O`,
  quantity: 'lowEdge',
  direction: 1,
  make: ({ curve }) => (curve.low += by),
  truth: () => ({ ...noChange, lowEdge: by, windowWidth: -by }),
});

const highEdge = (by: number): Change => ({
  name: `high end down ${by} inH2O`,
  quantity: 'highEdge',
  direction: -1,
  make: ({ curve }) => (curve.high -= by),
  truth: () => ({ ...noChange, highEdge: -by, windowWidth: -by }),
});

const plateau = (percent: number): Change => ({
  name: `plateau down ${percent} %`,
  quantity: 'plateau',
  direction: -1,
  // The dark signal sinks as well, so that the ends stay where they are.
  make: ({ curve }) => {
    curve.amplitude *= 1 - percent / 100;
    curve.dark *= 1 - percent / 100;
  },
  truth: () => ({ lowEdge: 0, highEdge: 0, windowWidth: 0, lag: 0 }),
});

const lag = (seconds: number): Change => ({
  name: `lag up ${seconds} s`,
  quantity: 'lag',
  direction: 1,
  make: (facts) => (facts.lagS += seconds),
  truth: () => ({ ...noChange, lag: seconds }),
});

const noise = (times: number): Change => ({
  name: `scatter ${times} times`,
  quantity: 'noise',
  direction: 1,
  make: (facts) => {
    facts.white *= times;
    facts.flicker *= times;
  },
  truth: () => noChange,
});

/** Every change that is looked for, the unchanged burner first. */
export const changes: Change[] = [
  unchanged,
  ...[0.02, 0.05, 0.1].map(lowEdge),
  ...[0.02, 0.05, 0.1].map(highEdge),
  ...[1, 2, 5].map(plateau),
  ...[0.2, 0.5].map(lag),
  ...[1.5, 2].map(noise),
];
