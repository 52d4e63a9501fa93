import { describe, expect, it } from 'vitest';
import { anyMomentWords } from '../../shared/light-off/any-moment.ts';
import type { CountedTrial } from '../../shared/light-off/at-setting.ts';

const trial = (sparkDelayS: number | undefined, lit = true, pressure = 2.4): CountedTrial => ({
  pressure,
  unit: 'inH2O',
  lit,
  ...(sparkDelayS !== undefined && { sparkDelayS }),
});
const words = (...trials: CountedTrial[]) =>
  anyMomentWords(trials, { unit: 'inH2O', pressure: 2.4, tolerance: 0.1 }, 10);

describe('whether it lights at any moment of the trial for ignition', () => {
  it('tells the moments that lit, and that later ones were not tried', () => {
    const found = words(trial(5), trial(0), trial(0));
    expect(found).toContain('lit at every moment of the trial for ignition that was tried');
    expect(found).toContain('spark with gas, 5.0 s after gas');
    expect(found).toContain('A later spark, up to the 10 s of the trial for ignition, was not tried.');
  });
  it('takes a spark within a second of the gas for one with the gas, and compares later ones by tenths', () => {
    const found = words(trial(0.2), trial(5.02), trial(4.98, false));
    expect(found).toContain('1 of 2 failed with the spark 5.0 s after gas');
    expect(words(trial(0.2), trial(5.02))).toContain('spark with gas, 5.0 s after gas');
  });
  it('says that a delayed spark was not tried where all came with the gas', () =>
    expect(words(trial(0))).toContain('A delayed spark, up to the 10 s'));
  it('says no more of later ones where the spark came at the end of the trial', () =>
    expect(words(trial(0), trial(10))).not.toContain('not tried'));
  it('names the moments that failed, of how many', () => {
    const found = words(trial(0), trial(0), trial(5), trial(5, false));
    expect(found).toContain('does not light at every moment');
    expect(found).toContain('1 of 2 failed with the spark 5.0 s after gas');
    expect(found).not.toContain('with gas;');
  });
  it('shows nothing by trials at other pressures or with a spark that nobody knows', () => {
    expect(words(trial(0, true, 3), trial(undefined))).toContain('nothing shows at which moments it lights');
    expect(words()).toContain('nothing shows');
  });
  it('names a failure whose spark nobody knows, and claims no moment beside it', () => {
    const found = words(trial(undefined, false), trial(0), trial(5));
    expect(found).not.toContain('every moment');
    expect(found).toContain('One trial failed there with a spark at an unknown moment.');
    expect(words(trial(undefined, false), trial(undefined, false))).toContain('2 trials failed there');
  });
});
