import { describe, expect, it } from 'vitest';
import type { Series } from '../../../../shared/analysis/sweep/series/series.ts';
import { withoutPressure } from '../../../../shared/analysis/sweep/meter-faults/no-pressure.ts';

/** Two readings a second for a minute. */
const series = (at: (t: number) => number): Series => {
  const time = Float64Array.from({ length: 120 }, (_, i) => i / 2);
  return { time, value: time.map(at) };
};
const flame = series((t) => 4.5 + 0.02 * Math.sin(9 * t));

describe('a manometer that shows nothing', () => {
  it('while the flame burns on has lost its hose', () => {
    const stretches = withoutPressure(
      series((t) => (t >= 20 && t < 31 ? 0.01 : 3)),
      flame,
    );
    expect(stretches).toEqual([{ fromS: 19, toS: 31.5 }]);
  });
  it('while the signal falls shows that gas was shut, however slow the detector', () => {
    // A lag of 3 s.
    const dying = series((t) => (t < 20 ? 4.5 : 4.5 * Math.exp(-(t - 20) / 3)));
    expect(
      withoutPressure(
        series((t) => (t < 20 ? 3 : 0.01)),
        dying,
      ),
    ).toEqual([]);
  });
  it('beside a signal that stands still says nothing: that meter may be frozen', () => {
    expect(
      withoutPressure(
        series((t) => (t < 20 ? 3 : 0.01)),
        series(() => 4.5),
      ),
    ).toEqual([]);
  });
  it('all the time has its hose on the wrong port', () => {
    expect(
      withoutPressure(
        series((t) => -0.02 + 0.01 * Math.sin(t)),
        flame,
      ),
    ).toEqual([]);
  });
  it('for a moment is noise', () => {
    expect(
      withoutPressure(
        series((t) => (t >= 20 && t < 22 ? 0 : 3)),
        flame,
      ),
    ).toEqual([]);
  });
});
