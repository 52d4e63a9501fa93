import { nextLanglie } from '../../shared/light-off/sensitivity/langlie.ts';
import { nextNeyer } from '../../shared/light-off/sensitivity/neyer.ts';
import { fitProbit } from '../../shared/light-off/sensitivity/probit.ts';
import type { Response } from '../../shared/light-off/sensitivity/up-and-down.ts';
import { dixonMood } from './dixon-mood.ts';
import { type Check, compareLists, reference, type Row } from './check.ts';

const pairs = (levels: readonly number[], responses: readonly (number | boolean)[]): Response[] =>
  levels.map((level, i) => ({ level, responded: Boolean(responses[i]) }));

interface Mood {
  base_level: number;
  N: number;
  A: number;
  B: number;
  M: number;
  mean: number;
  sd: number | null;
  sd_fallback_0_53_d: number;
}

function moodRows(trials: readonly Response[], step: number, expected: Mood, absolute: number): Row[] {
  const found = dixonMood(trials, step)!;
  return [
    ...compareLists(['N', 'A', 'B'], [expected.N, expected.A, expected.B], [found.count, found.a, found.b], 'exact'),
    ...compareLists(
      ['lowest level', 'M', 'mean', 'deviation'],
      [expected.base_level, expected.M, expected.mean, expected.sd ?? expected.sd_fallback_0_53_d],
      [found.base, found.m, found.mean, found.sd],
      { absolute },
    ),
  ];
}

const likelihoodRows = (
  trials: readonly Response[],
  expected: { mu: number; sigma: number },
  relative: number,
): Row[] => {
  const { mu, sigma } = fitProbit(trials)!;
  return compareLists(['mean by probit', 'deviation by probit'], [expected.mu, expected.sigma], [mu, sigma], {
    relative,
  });
};

function hamada(): Row[] {
  const { inputs, expected, tolerance } = reference<
    { height_cm: number[]; go: number[]; nominal_log10_step: number },
    { dixon_mood: Mood; computed_probit: { mu: number; sigma: number } }
  >('updown-hamada-2019');
  const trials = pairs(inputs.height_cm.map(Math.log10), inputs.go);
  return [
    ...moodRows(trials, inputs.nominal_log10_step, expected.dixon_mood, tolerance['dixon_mood_abs']!),
    ...likelihoodRows(trials, expected.computed_probit, tolerance['computed_rel']!),
  ];
}

function sixty(): Row[] {
  const { inputs, expected, tolerance } = reference<
    { levels: number[]; go: number[]; step: number },
    { dixon_mood: Mood; probit_ml: { mu: number; sigma: number } }
  >('updown-simulated-60');
  const trials = pairs(inputs.levels, inputs.go);
  return [
    ...moodRows(trials, inputs.step, expected.dixon_mood, tolerance['dixon_mood_abs']!),
    ...likelihoodRows(trials, expected.probit_ml, tolerance['ml_rel']!),
  ];
}

function staircase(): Row[] {
  const { inputs, expected, tolerance } = reference<
    { levels: number[]; event: number[]; step: number },
    { computed_base_is_lowest_event_level: Mood }
  >('updown-ekaputra-2020');
  const trials = pairs(inputs.levels, inputs.event);
  return moodRows(trials, inputs.step, expected.computed_base_is_lowest_event_level, tolerance['abs']!);
}

/** The levels of a test whose next one follows from those before. */
function traceRows(
  levels: readonly number[],
  responses: readonly boolean[],
  next: (before: readonly Response[]) => number,
  absolute: number,
): Row[] {
  const trials: Response[] = [];
  for (const [i] of levels.entries()) trials.push({ level: next(trials), responded: responses[i] ?? false });
  return compareLists(
    levels.map((_, i) => `level ${i + 1}`),
    levels,
    trials.map(({ level }) => level),
    { absolute },
  );
}

function langlie(): Row[] {
  const { inputs, expected, tolerance } = reference<
    { lower: number; upper: number; responses: boolean[] },
    { levels_including_next: number[] }
  >('langlie-trace');
  const next = (trials: readonly Response[]) => nextLanglie(trials, inputs.lower, inputs.upper);
  return traceRows(expected.levels_including_next, inputs.responses, next, tolerance['abs']!);
}

function neyer(): Row[] {
  const { inputs, expected, tolerance } = reference<
    { mu_min: number; mu_max: number; sigma_guess: number; responses: boolean[] },
    { published_levels: number[]; computed: { level: number }[] }
  >('neyer-trace-10');
  const guess = { low: inputs.mu_min, high: inputs.mu_max, sigma: inputs.sigma_guess };
  const next = (trials: readonly Response[]) => nextNeyer(trials, guess);
  const computed = expected.computed.map(({ level }) => level);
  return [
    ...traceRows(expected.published_levels, inputs.responses, next, tolerance['level_abs']!),
    // The second method is given with all its digits; the place of a maximum has half of them.
    ...traceRows(computed, inputs.responses, next, 1e-6),
  ];
}

const shared = { subject: 'Tests of a threshold', origin: 'published' } as const;

export const sensitivity: Check[] = [
  {
    ...shared,
    name: 'Up-and-down, drop test of 25',
    of: 'dixonMood, fitProbit',
    source: 'Dixon and Mood 1948; Hamada, Mang and Hoff 2019',
    file: 'updown-hamada-2019',
    run: hamada,
  },
  {
    ...shared,
    name: 'Up-and-down, 60 simulated trials',
    of: 'dixonMood, fitProbit',
    source: 'Dixon and Mood 1948; SciPy',
    origin: 'computed',
    file: 'updown-simulated-60',
    run: sixty,
  },
  {
    ...shared,
    name: 'Up-and-down, fatigue of 12 specimens',
    of: 'dixonMood',
    source: 'Dixon and Mood 1948; Ekaputra and others 2020',
    file: 'updown-ekaputra-2020',
    run: staircase,
  },
  {
    ...shared,
    name: 'One-shot test',
    of: 'nextLanglie',
    source: 'Langlie 1962 (rule from memory)',
    origin: 'from memory',
    file: 'langlie-trace',
    run: langlie,
  },
  {
    ...shared,
    name: 'D-optimal test, ten levels',
    of: 'nextNeyer',
    source: 'Neyer 1994, Technometrics 36, 61',
    file: 'neyer-trace-10',
    run: neyer,
  },
];
