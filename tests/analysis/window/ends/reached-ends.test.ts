import { describe, expect, it } from 'vitest';
import { exactEstimate } from '../../../../shared/analysis/curve/estimate.ts';
import { isBadSomewhere } from '../../../../shared/analysis/window/diagnostics/dips.ts';
import { withReachedEnds } from '../../../../shared/analysis/window/ends/reached-ends.ts';
import type { SignalEnd, SignalInterval } from '../../../../shared/analysis/window/ends/signal-interval.ts';
import { intervalWith } from '../interval-with.ts';

const endAt = (value: number, flameLost = false): SignalEnd => ({
  ...exactEstimate(value),
  bounded: true,
  flameLost,
  slope: flameLost ? 0 : 1,
});
/** Readings at 1.1, 1.2 and so on up to 3.9 inH2O, of these signals in the three lowest. */
const pairsWith = (...lowest: number[]) => {
  const pressure = Float64Array.from({ length: 29 }, (_, i) => 1.1 + 0.1 * i);
  return { pressure, signal: pressure.map((p, i) => lowest[i] ?? (p > 3.75 ? 4 : 5)) };
};
const tested = [1.1, 3.9] as const;
const reachedOf = (
  ends: SignalInterval,
  pairs: ReturnType<typeof pairsWith>,
  lossesAt: number[] = [],
  others: { isAmid?: boolean; isPossible?: boolean } = {},
) =>
  withReachedEnds(
    ends,
    pairs,
    tested,
    { atEnds: lossesAt.map((lostAt) => ({ lostAt })), isAmid: false, isPossible: true, ...others },
    (low, high) =>
      isBadSomewhere(pairs.pressure, pairs.signal, [low, high], tested[1] - tested[0], ends.required.value),
  );

describe('an end', () => {
  const ends = intervalWith(endAt(1.35), endAt(3.7));

  it('was not reached where most readings beyond it are good', () => {
    for (const lowest of [
      [4.7, 4.75, 4.8],
      [4.7, 4.6, 3.1],
    ]) {
      const { status, low } = reachedOf(ends, pairsWith(...lowest));
      expect(status).toBe('open-low');
      expect(low).toMatchObject({ value: 1.1, ci: [1.1, 1.1], bounded: false });
    }
  });
  it('was reached where the readings beyond are good but for a dip at it, and bad again farther out', () => {
    // Forty readings an inch: good from 2.0 to 2.6, bad from 2.6 to 3.0 and below 2.0, where the curve ends at 3.0.
    const pressure = Float64Array.from({ length: 112 }, (_, i) => 1.1 + i / 40);
    const signal = pressure.map((p) => ((p >= 3 && p < 3.7) || (p >= 2 && p < 2.6) || (p > 1.5 && p < 2) ? 5 : 3));
    const { status, low } = reachedOf(intervalWith(endAt(3), endAt(3.7)), { pressure, signal });
    expect(status).toBe('bounded');
    expect(low).toMatchObject({ value: 3, bounded: true });
  });
  it('was reached where most are not', () => {
    for (const lowest of [
      [4.2, 4.3, 4.4],
      [4.2, 4.4, 4.6],
    ])
      expect(reachedOf(ends, pairsWith(...lowest))).toMatchObject({
        status: 'bounded',
        low: { value: 1.35 },
      });
  });
  it('at which the flame was lost needs no readings beyond it', () => {
    const lost = intervalWith(endAt(1.35, true), endAt(3.7));
    expect(reachedOf(lost, pairsWith(4.7, 4.75, 4.8)).status).toBe('bounded');
  });
  it('was reached where the flame was lost beyond it, however good the last readings are', () => {
    expect(reachedOf(ends, pairsWith(4.7, 4.75, 4.8), [1.2]).status).toBe('bounded');
    // A loss on the other side says nothing of this one.
    expect(reachedOf(ends, pairsWith(4.7, 4.75, 4.8), [3.8]).status).toBe('open-low');
  });
  it('is no cliff at the very last pressure where no loss was seen: a gust bends a curve so', () => {
    const cliff: SignalEnd = { ...endAt(3.89, true), slope: -600 };
    expect(
      reachedOf(intervalWith(endAt(1.35), cliff), pairsWith(4.2, 4.2, 4.2), [], { isPossible: false }).status,
    ).toBe('open-high');
    expect(reachedOf(intervalWith(endAt(1.35), cliff), pairsWith(4.2, 4.2, 4.2), [], { isPossible: true }).status).toBe(
      'bounded',
    );
    const farther: SignalEnd = { ...endAt(3.8, true), slope: -600 };
    expect(
      reachedOf(intervalWith(endAt(1.35), farther), pairsWith(4.2, 4.2, 4.2), [], { isPossible: false }).status,
    ).toBe('bounded');
  });
  it('that is open lies where a flame was seen last, however far the pressure went while it was out', () => {
    const open: SignalEnd = { ...exactEstimate(0.6), bounded: false, flameLost: false, slope: 0 };
    expect(reachedOf(intervalWith(open, endAt(3.7)), pairsWith(5, 5, 5)).low).toMatchObject({
      value: 1.1,
      ci: [1.1, 1.1],
    });
  });
  it('was not reached beyond all readings of a flame, where one that was lost amid good pressures left its dark', () => {
    const beyondAll: SignalEnd = { ...endAt(1.05), slope: 50 };
    const outside = intervalWith(beyondAll, endAt(3.7));
    expect(reachedOf(outside, pairsWith(5, 5, 5), [], { isAmid: true }).status).toBe('open-low');
    expect(reachedOf(outside, pairsWith(5, 5, 5)).status).toBe('bounded');
  });
});
