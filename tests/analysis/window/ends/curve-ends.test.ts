import { describe, expect, it } from 'vitest';
import { findCurveEnds } from '../../../../shared/analysis/window/ends/curve-ends.ts';

/** A curve that is good from 1 to 4 inH2O and everywhere it was tested. */
const pressure = Float64Array.from({ length: 31 }, (_, i) => 1 + i / 10);
const flat = { pressure, signal: pressure.map(() => 5), levelAt: () => 5 };
const endsOf = (below: number, above: number) => findCurveEnds(flat, [below, above], 0.1, undefined);

describe('a curve that is good wherever it was tested', () => {
  it('has no end where the flame was never lost', () => {
    const { low, high } = endsOf(-Infinity, Infinity);
    expect(low).toMatchObject({ value: 1, bounded: false });
    expect(high).toMatchObject({ value: 4, bounded: false });
  });
  it('ends where the flame was lost, at or just past the last of these pressures too', () => {
    for (const above of [3.52, 4, 4.001]) {
      const { low, high } = endsOf(-Infinity, above);
      expect(high).toMatchObject({ value: above, bounded: true, flameLost: true });
      expect(low!.bounded).toBe(false);
    }
    expect(endsOf(0.999, Infinity).low).toMatchObject({ value: 0.999, bounded: true, flameLost: true });
  });
});
