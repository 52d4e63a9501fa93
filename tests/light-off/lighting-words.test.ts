import { describe, expect, it } from 'vitest';
import type { Lighting, LightingSide } from '../../shared/model/results/lighting.ts';
import { lightingWords, longestDelayWords } from '../../shared/light-off/lighting-words.ts';

const side = (more: Partial<LightingSide> = {}): LightingSide => ({
  trials: 6,
  lit: 5,
  tried: [2.4, 3.4],
  estimates: [
    { pressure: 2.4, probability: 0.91, ci: [0.52, 1] },
    { pressure: 3.4, probability: 0.63, ci: [0.21, 0.94] },
  ],
  fallsOff: false,
  ...more,
});
const words = (more: Partial<Lighting>) => lightingWords({ wanted: 0.9, leftOut: 0, ...more }, 'inH2O', 0.95).join(' ');

describe('the lighting model in words', () => {
  it('says how sure it is at the outermost pressure tried, and that few trials move no end', () => {
    const found = words({ high: side() });
    expect(found).toContain('High side: 5 of 6 lit. At 3.40 inH2O, the highest tried with the spark at once');
    expect(found).toContain('estimate 63 %, 21 % to 94 % at 95 % confidence');
    expect(found).toContain('Too few trials for this model to show where it falls off, so it moves no end.');
  });
  it('takes the lowest pressure on the low side, and says nothing that sounds like a proof at the setting', () =>
    expect(words({ low: side() })).toContain(
      'At 2.40 inH2O, the lowest tried with the spark at once: estimate 91 %, 52 % to 100 %',
    ));
  it('names the upper bound where nothing lit as far out', () => {
    const estimates = [{ pressure: 3.4, probability: 0.2, ci: [0, 0.75] as [number, number] }];
    expect(words({ high: side({ estimates }) })).toContain('at most 75 %');
  });
  it('knows no end without a failure', () =>
    expect(words({ high: side({ lit: 6 }) })).toContain('No failure shows where lighting ends.'));
  it('says from where on it lights less often than wanted', () =>
    expect(words({ high: side({ fallsOff: true, reach: 3.12 }) })).toContain(
      'under 90 % above 3.12 inH2O, so the guarded end lies inside that',
    ));
  it('says where no pressure lights as often as wanted', () =>
    expect(words({ low: side({ fallsOff: true }) })).toContain('nowhere reaches 90 %'));
  it('says that pressure and spark are not told apart, and what is left out', () => {
    expect(words({ low: side({ estimates: [] }) })).toContain('do not tell what the pressure did and what the spark');
    expect(words({ leftOut: 1 })).toContain('One trial is left out');
    expect(words({ leftOut: 3 })).toContain('3 trials are left out');
  });
  it('is silent without trials', () => expect(words({})).toBe(''));
});

describe('the longest spark delay that lit', () => {
  const tried = (pressure: number, delayS: number, lit: boolean) => ({ pressure, delayS, lit });

  it('is said at each pressure, with the shortest that failed there', () => {
    const trials = [tried(3.1, 2, true), tried(2.5, 0, true), tried(2.5, 5, true), tried(3.1, 4, false), tried(2.8, 3, false), tried(2, 0, true)]; // prettier-ignore
    expect(longestDelayWords(trials, 'inH2O')).toEqual([
      'Longest spark delay that lit: 5.0 s at 2.50 inH2O; none at 2.80 inH2O, where 3.0 s failed; 2.0 s at 3.10 inH2O, where 4.0 s failed.',
    ]);
  });
  it('is not said where no spark was delayed', () => {
    expect(longestDelayWords([tried(2.5, 0, true)], 'inH2O')).toEqual([]);
  });
});
