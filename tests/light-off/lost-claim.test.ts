import { describe, expect, it } from 'vitest';
import { lostClaimWords } from '../../shared/light-off/lost-claim.ts';

const claim = { probability: 0.9, confidence: 0.9, delayed: 1 };

describe('a claim after a failure at the setting', () => {
  it('is lost by its plan, which asks for a row without any failure', () => {
    const words = lostClaimWords(claim, { trials: 23, lit: 22 });
    expect(words).toMatch(
      /asks for a row without any failure .* by the plan 90 % at 90 % confidence cannot be claimed/u,
    );
    expect(words).not.toContain('do show');
  });

  // One failure or none in n trials at p = 0.9 has the chance 0.9^n + n 0.1 0.9^(n - 1): 0.1036 for 37 and 0.0953 for 38.
  it.each([
    [37, 36, false],
    [38, 37, true],
    [21, 21, false],
    [22, 22, true],
  ])('says what the count shows all the same: %i trials of which %i lit, shown %s', (trials, lit, is) => {
    const shown = `${lit} of ${trials} lit with the spark at once do show 90 % at 90 % confidence`;
    expect(lostClaimWords(claim, { trials, lit }).includes(shown)).toBe(is);
  });
});
