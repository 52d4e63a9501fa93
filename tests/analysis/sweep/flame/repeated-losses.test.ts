import { describe, expect, it } from 'vitest';
import { findRepeatedLosses } from '../../../../shared/analysis/sweep/flame/repeated-losses.ts';
import { pressureGrid } from '../../../../shared/analysis/sweep/series/pressure-grid.ts';
import type { StateSpan } from '../../../../shared/burner-state/track.ts';
import { drawLossSweep } from '../../../benchmark/losses/kinds.ts';
import { answer } from '../../answer.ts';

/** From 3 down to 1 inH2O and up again, by a tenth every other second: at 40 s the lowest, at 80 s the end. */
const pressureAtS = (t: number) => 1 + Math.round(Math.abs(t - 40) / 2) / 10;
const time = Float64Array.from({ length: 401 }, (_, i) => i / 5);
const grid = pressureGrid({ time, value: time.map(pressureAtS) }, 0.2);

/** A flame that burns but for these stretches, with gas on all the time. */
function spansOf(...lost: [fromS: number, toS: number][]): StateSpan[] {
  const span = (from_s: number, to_s: number, flame: StateSpan['flame']): StateSpan => ({
    from_s,
    to_s,
    flame,
    gas: 'flowing',
    regulator: 'turning-out',
    phase: 'held',
    probability: 0.99,
  });
  const edges = lost.flatMap(([from, to]) => [span(from, to, 'lost')]);
  const gaps = [0, ...lost.map(([, to]) => to)].map((from, i) => span(from, lost[i]?.[0] ?? 80, 'burning'));
  return [...edges, ...gaps].sort((a, b) => a.from_s - b.from_s);
}
const found = (...lost: [number, number][]) => findRepeatedLosses(spansOf(...lost), grid, [1, 3]);

describe('a flame that drops out again and again near the lean end', () => {
  it('marks the innermost pressure at which it was lost or came back', () => {
    // At 1.4, 1.2, 1.1 (turning out) and at 1.3, each time at rest.
    const losses = found([32.3, 32.8], [36.3, 36.8], [38.3, 38.8], [46.3, 46.8])!;
    expect(losses.side).toBe('low');
    expect(losses.losses).toHaveLength(4);
    expect(losses.innermost).toBeCloseTo(1.4, 1);
    expect(losses.farthest).toBeGreaterThan(losses.innermost);
  });
  it('may go on for as long as half its rate leaves three unseen losses to be expected', () => {
    // At 1.4 or below from 31 to 49 s: 18 s with 4 losses. Three at half of that rate in 27 s: 13.5 s on each way, to a step of the stairs.
    const { farthest } = found([32.3, 32.8], [36.3, 36.8], [38.3, 38.8], [46.3, 46.8])!;
    expect(Math.abs(farthest - pressureAtS(31 - 13.5))).toBeLessThan(0.15);
  });
  it('is no signal that only turns of the regulator move', () => {
    // Each began and ended with a step of the stairs.
    expect(found([32.6, 33.4], [36.6, 37.4], [38.6, 39.4], [46.6, 47.4])).toBeUndefined();
  });
  it('is no flame that was blown off and turned back in, nor one of drafts here and there', () => {
    expect(found([34, 46], [36, 37])).toBeUndefined();
    expect(found([10, 11], [20, 21], [36, 37], [39, 39.5], [60, 61])).toBeUndefined();
    expect(found([32.3, 32.8], [36.3, 36.8])).toBeUndefined();
  });
});

describe('a window whose lean end is where the flame drops out', () => {
  // Each was told as a signal that falls, at the shoulder of a curve through the drop-outs.
  it.each([1, 4])('ends there, guarded by what was not seen, and says so: sweep %i', (seed) => {
    const { capture, course, flame } = drawLossSweep('drops out at the lean end', seed);
    const { window, warnings } = answer(capture).result;
    const innermost = Math.max(...course.losses.map(({ pressure }) => pressure));
    expect(window.low!.cause).toBe('unsteady');
    expect(window.low!.value).toBeGreaterThan(innermost - 0.05);
    expect(window.low!.ci[1]).toBeGreaterThan(flame.dropOuts!.from);
    expect(warnings.map(({ code }) => code)).toContain('flame-drops-out');
  });
});
