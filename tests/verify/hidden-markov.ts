import {
  predictStates,
  smoothStep,
  type Transitions,
  transitionsOf,
  updateStates,
  viterbi,
} from '../../shared/numerics/hidden-markov.ts';
import { type Check, compareLists, reference } from './check.ts';

interface Chain {
  initial: number[];
  transition: number[][];
}
interface Inputs {
  umbrella2: Chain & { likelihoods: number[][] };
  umbrella5: Chain & { likelihoods: number[][] };
  fever: Chain & { likelihoods: number[][] };
  gaussian3: Chain & { means: number[]; deviations: number[]; observations: number[] };
}
interface Expected {
  umbrella2: { filtered_first_state: number[]; smoothed_first_state: number[] };
  umbrella5: { smoothed_first_state: number[]; log_likelihood: number };
  fever: { path: number[]; probability: number };
  gaussian3: {
    filtered: number[][];
    smoothed: number[][];
    log_likelihood: number;
    viterbi: number[];
    viterbi_log_probability: number;
  };
}

/** Filter and smoother over a whole list of observations, round by round with the product's steps. */
function filterAndSmooth(initial: Float64Array, transitions: Transitions, likelihoods: Float64Array[]) {
  const size = initial.length;
  const predicted: Float64Array[] = [];
  const filtered: Float64Array[] = [];
  let logLikelihood = 0;
  likelihoods.forEach((likelihood, t) => {
    const states = new Float64Array(size);
    if (t === 0) states.set(initial);
    else predictStates(filtered[t - 1]!, transitions, states);
    predicted.push(states.slice());
    logLikelihood += updateStates(states, likelihood);
    filtered.push(states);
  });
  const smoothed = [...filtered];
  for (let t = likelihoods.length - 2; t >= 0; t -= 1) {
    const into = new Float64Array(size);
    smoothStep(filtered[t]!, predicted[t + 1]!, smoothed[t + 1]!, transitions, into);
    smoothed[t] = into;
  }
  return { filtered, smoothed, logLikelihood };
}

const rowsOf = (lists: number[][]) => lists.map((list) => Float64Array.from(list));
const first = (lists: Float64Array[]) => lists.map((states) => states[0]!);

const shared = {
  subject: 'Hidden Markov models',
  of: 'hidden-markov',
  origin: 'from memory',
  file: 'hidden-markov',
} as const;

export const hiddenMarkov: Check[] = [
  {
    ...shared,
    name: 'Umbrella, two and five days',
    source: 'Russell and Norvig, Artificial Intelligence: A Modern Approach, chapter 15',
    run: () => {
      const { inputs, expected, tolerance } = reference<Inputs, Expected>('hidden-markov');
      const within = { absolute: Number(tolerance['abs']) };
      const run = ({ initial, transition, likelihoods }: Inputs['umbrella2']) =>
        filterAndSmooth(Float64Array.from(initial), transitionsOf(transition), rowsOf(likelihoods));
      const [two, five] = [run(inputs.umbrella2), run(inputs.umbrella5)];
      const [want2, want5] = [expected.umbrella2, expected.umbrella5];
      return [
        ...compareLists('filtered, day', want2.filtered_first_state, first(two.filtered), within),
        ...compareLists('smoothed, day', want2.smoothed_first_state, first(two.smoothed), within),
        ...compareLists('smoothed, of five, day', want5.smoothed_first_state, first(five.smoothed), within),
        ...compareLists(['log likelihood, five days'], [want5.log_likelihood], [five.logLikelihood], within),
      ];
    },
  },
  {
    ...shared,
    name: 'Healthy or fever: the most probable course',
    source: 'the usual worked example of the Viterbi algorithm',
    run: () => {
      const { inputs, expected } = reference<Inputs, Expected>('hidden-markov');
      const { initial, transition, likelihoods } = inputs.fever;
      const found = viterbi(Float64Array.from(initial), transitionsOf(transition), rowsOf(likelihoods));
      return [
        ...compareLists('state', expected.fever.path, [...found.path], 'exact'),
        ...compareLists(['log probability'], [Math.log(expected.fever.probability)], [found.logProbability], {
          absolute: 1e-10,
        }),
      ];
    },
  },
  {
    ...shared,
    origin: 'computed',
    name: 'Three levels in normal noise, 120 observations',
    source: 'simulated; computed with NumPy, checked by enumeration',
    run: () => {
      const { inputs, expected, tolerance } = reference<Inputs, Expected>('hidden-markov');
      const { initial, transition, means, deviations, observations } = inputs.gaussian3;
      const likelihoods = observations.map((y) =>
        Float64Array.from(
          means,
          (mean, i) => Math.exp(-(((y - mean) / deviations[i]!) ** 2) / 2) / (deviations[i]! * Math.sqrt(2 * Math.PI)),
        ),
      );
      const transitions = transitionsOf(transition);
      const start = Float64Array.from(initial);
      const { filtered, smoothed, logLikelihood } = filterAndSmooth(start, transitions, likelihoods);
      const best = viterbi(start, transitions, likelihoods);
      const want = expected.gaussian3;
      const within = { absolute: Number(tolerance['abs']) };
      const all = (lists: readonly (readonly number[] | Float64Array)[]) => lists.flatMap((list) => [...list]);
      return [
        ...compareLists('filtered', all(want.filtered), all(filtered), within),
        ...compareLists('smoothed', all(want.smoothed), all(smoothed), within),
        ...compareLists(['log likelihood'], [want.log_likelihood], [logLikelihood], within),
        ...compareLists('state', want.viterbi, [...best.path], 'exact'),
        ...compareLists(['log probability'], [want.viterbi_log_probability], [best.logProbability], within),
      ];
    },
  },
];
