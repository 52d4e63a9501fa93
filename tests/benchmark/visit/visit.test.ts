import { describe, expect, it } from 'vitest';
import type { Segment, Span, Visit } from './types.ts';
import { acceptableWords, drawVisit, visitKinds } from './visit.ts';

const seeds = [1, 2, 3, 4, 5];

/** What the definitions rule out, whatever the visit; the offending segment is shown. */
const impossible: Record<string, (segment: Segment) => boolean> = {
  'lost without gas': ({ flame, gas }) => flame === 'lost' && gas === 'shut',
  'out although gas flows': ({ flame, gas }) => flame === 'out' && (gas === 'flowing' || gas === 'opening'),
  'a flame without gas': ({ flame, gas }) => ['lighting', 'burning', 'unsteady'].includes(flame) && gas === 'shut',
  'a regulator that shows with gas shut': ({ regulator, gas }) =>
    regulator !== 'unknown' && (gas === 'shut' || gas === 'closing' || gas === 'unknown'),
  'an unknown regulator with gas on': ({ regulator, gas }) => regulator === 'unknown' && gas === 'flowing',
  'waiting or purging with gas on': ({ phase, gas }) =>
    ['wait', 'purge', 'before-gas', 'after'].includes(phase) && !(gas === 'shut' || gas === 'unknown'),
  'held or tried with gas shut': ({ phase, gas }) => (phase === 'held' || phase === 'trial') && gas === 'shut',
  'purging with a flame': ({ phase, flame }) => phase === 'purge' && !(flame === 'out' || flame === 'dark'),
};

function expectConsistent({ truth, durationS, capture }: Visit): void {
  const { segments } = truth;
  expect(segments[0]!.from_s).toBe(0);
  expect(segments.at(-1)!.to_s).toBeCloseTo(durationS, 6);
  const leaks = (at_s: number) => truth.leaks.some(({ from_s, to_s }) => at_s >= from_s && at_s < to_s);
  expect(segments.filter(({ from_s }, k) => k > 0 && from_s !== segments[k - 1]!.to_s)).toEqual([]);
  expect(segments.filter(({ from_s, to_s }) => to_s <= from_s)).toEqual([]);
  for (const [what, applies] of Object.entries(impossible))
    expect(
      segments.filter((segment) => applies(segment) && !leaks(segment.from_s)),
      what,
    ).toEqual([]);
  const misplaced = ({ from_s, to_s }: Span) => from_s < 0 || to_s <= from_s || to_s > durationS + 1e-6;
  expect([...truth.eitherWay, ...truth.purges, ...truth.pulses, ...truth.leaks].filter(misplaced)).toEqual([]);
  for (const loss of truth.losses) {
    expect(loss.relitAt_s ?? loss.gasShutAt_s ?? durationS).toBeGreaterThan(loss.at_s);
    expect(loss.earliestToldShutter_s ?? Infinity).toBeGreaterThan(loss.at_s);
    // Who has to reckon with a pulse cannot know sooner than who is told that there is none, or how long it is.
    expect(loss.earliestDetectable_s ?? Infinity).toBeGreaterThanOrEqual(loss.earliestToldShutter_s ?? Infinity);
    const words = acceptableWords(truth, 'flame', loss.at_s + 0.011, false);
    expect(words.includes('lost') || words.includes('unknown'), `lost at ${loss.at_s} s`).toBe(true);
  }
  expect(truth.trials.filter(({ ignited_s, proved_s }) => proved_s! < ignited_s!)).toEqual([]);
  expect(capture.readings.filter(({ elapsedS }) => !(elapsedS >= 0 && elapsedS < durationS + 1))).toEqual([]);
  expect(capture.readings.filter(({ value, flag }) => Number.isNaN(value) !== (flag !== undefined))).toEqual([]);
}

describe('visits drawn with their truth', () => {
  it('has at least thirty kinds', () => {
    expect(visitKinds.length).toBeGreaterThanOrEqual(30);
    expect(new Set(visitKinds).size).toBe(visitKinds.length);
  });
  it.each(visitKinds)('%s: the truth covers the recording without a gap and obeys the definitions', (kind) => {
    for (const seed of seeds) expectConsistent(drawVisit(kind, seed));
  });
  it.each(visitKinds.slice(0, 6))('%s: the same seed gives the same visit, another seed another one', (kind) => {
    expect(drawVisit(kind, 7)).toEqual(drawVisit(kind, 7));
    expect(drawVisit(kind, 8).capture.readings).not.toEqual(drawVisit(kind, 7).capture.readings);
  });
});
