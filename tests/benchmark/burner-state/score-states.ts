import type { StateName, Visit } from '../visit/types.ts';

export const stateNames = ['gas', 'flame', 'regulator', 'phase'] as const satisfies readonly StateName[];

/** How many seconds were judged, and in how many the word was right. */
export interface Seconds {
  judged: number;
  right: number;
  /** The wrong ones by what was true and what was said. */
  wrong: Record<string, number>;
}

/** Seconds around a change that are not judged. */
const aroundChangeS = 1;
const everyS = 0.5;

/** What is said of each state at one moment. */
export type Words = Record<StateName, string>;

/** Compares what is said of each moment with what was true; `wordsAt` is asked with rising seconds. */
export function scoreStates(
  visit: Visit,
  wordsAt: (s: number) => Words | undefined,
  isLive: boolean,
): Record<StateName, Seconds> {
  const { truth } = visit;
  const found = Object.fromEntries(stateNames.map((name) => [name, { judged: 0, right: 0, wrong: {} }])) as Record<
    StateName,
    Seconds
  >;
  const changes = Object.fromEntries(
    stateNames.map((name) => [
      name,
      truth.segments
        .slice(1)
        .flatMap((segment, k) => (segment[name] !== truth.segments[k]![name] ? [segment.from_s] : [])),
    ]),
  ) as Record<StateName, number[]>;
  const first = truth.segments[0]!.from_s;
  const last = truth.segments.at(-1)!.to_s;
  let k = 0;
  for (let s = first + aroundChangeS + everyS / 2; s < last - aroundChangeS; s += everyS) {
    while (truth.segments[k]!.to_s <= s) k += 1;
    const segment = truth.segments[k]!;
    const words = wordsAt(s);
    for (const name of stateNames) {
      if (changes[name].some((at) => Math.abs(at - s) <= aroundChangeS)) continue;
      const said = words?.[name] ?? 'unknown';
      const allowed = truth.eitherWay
        .filter((span) => span.of === name && span.from_s <= s && s < span.to_s && (isLive || !span.live))
        .flatMap((span) => span.words);
      const own = found[name];
      own.judged += everyS;
      if (said === segment[name] || allowed.includes(said)) own.right += everyS;
      else own.wrong[`${segment[name]} as ${said}`] = (own.wrong[`${segment[name]} as ${said}`] ?? 0) + everyS;
    }
  }
  return found;
}
