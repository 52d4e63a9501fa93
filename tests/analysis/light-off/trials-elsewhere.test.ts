import { describe, expect, it } from 'vitest';
import { trialsElsewhere } from '../../../shared/analysis/trials-elsewhere.ts';
import type { Trial } from '../../../shared/model/capture.ts';

/** Gas at 2.4 inH2O from 100 to 110 s, shut at 0.2 before and after; one reading a second. */
const time = Float64Array.from({ length: 200 }, (_, i) => i);
const value = time.map((t) => (t >= 100 && t < 110 ? 2.4 : 0.2));
const trial = (pressure: number, elapsedS?: number): Trial => ({
  pressure,
  unit: 'inH2O',
  lit: true,
  ...(elapsedS !== undefined && { elapsedS }),
});
const found = (...trials: Trial[]) =>
  trialsElsewhere(trials, { time, value }, { unit: 'inH2O', trialSeconds: 10, tolerance: 0.05 });

describe('trials at whose time the manometer showed another pressure', () => {
  it('are told with what came nearest', () => {
    expect(found(trial(2.9, 100))).toEqual([{ pressure: 2.9, atS: 100, nearest: 2.4 }]);
    // Gas was shut all the time about 50 s.
    expect(found(trial(2.4, 50))).toEqual([{ pressure: 2.4, atS: 50, nearest: 0.2 }]);
  });
  it('are none that were written down some seconds off, or read off roughly', () => {
    expect(found(trial(2.4, 100), trial(2.4, 88), trial(2.4, 122), trial(2.5, 100))).toEqual([]);
  });
  it('are none without a time, or outside of the recording', () => {
    expect(found(trial(2.9), trial(2.9, 5000))).toEqual([]);
  });
});
