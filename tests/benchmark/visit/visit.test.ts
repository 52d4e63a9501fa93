import { describe, expect, it } from 'vitest';
import type { Segment, Visit } from './types.ts';
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
  for (const [k, segment] of segments.entries()) {
    if (k > 0) expect(segment.from_s).toBe(segments[k - 1]!.to_s);
    expect(segment.to_s).toBeGreaterThan(segment.from_s);
    for (const [what, applies] of Object.entries(impossible))
      if (applies(segment)) expect(segment, what).toBeUndefined();
  }
  for (const { from_s, to_s } of truth.eitherWay) {
    expect(from_s).toBeGreaterThanOrEqual(0);
    expect(to_s).toBeGreaterThan(from_s);
    expect(to_s).toBeLessThanOrEqual(durationS + 1e-6);
  }
  for (const loss of truth.losses) {
    if (loss.relitAt_s !== undefined) expect(loss.relitAt_s).toBeGreaterThan(loss.at_s);
    if (loss.gasShutAt_s !== undefined) expect(loss.gasShutAt_s).toBeGreaterThan(loss.at_s);
    expect(
      acceptableWords(truth, 'flame', loss.at_s + 0.011, false).some((word) => word === 'lost' || word === 'unknown'),
    ).toBe(true);
  }
  for (const trial of truth.trials)
    if (trial.proved_s !== undefined) expect(trial.proved_s).toBeGreaterThanOrEqual(trial.ignited_s!);
  for (const { elapsedS, value, flag } of capture.readings) {
    expect(elapsedS).toBeGreaterThanOrEqual(0);
    expect(Number.isNaN(value)).toBe(flag !== undefined);
  }
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
