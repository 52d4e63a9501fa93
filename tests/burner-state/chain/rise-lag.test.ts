import { describe, expect, it } from 'vitest';
import { createRiseWatch } from '../../../shared/burner-state/chain/rise-lag.ts';
import { lagSeconds } from '../../../shared/burner-state/chain/lags.ts';
import { createRandom } from '../../../shared/numerics/random.ts';

/** Noise `clipNoise` comes after the clip: that of the meter. Follows 3 s of dark and a rise of first order from 3.17 s on, five readings a second; `clip` is the amplifier's highest value. */
function sharesAfter(lag: number, seed: number, clip = Infinity, clipNoise = 0): Float64Array {
  const random = createRandom(seed);
  const watch = createRiseWatch();
  for (let i = 0; i < 150; i += 1) {
    const t = i / 5;
    const light = t > 3.17 ? 5 * (1 - Math.exp(-(t - 3.17) / lag)) : 0;
    const value = Math.min(clip, light + 0.02 * random.normal()) + clipNoise * random.normal();
    const burns = light > 4;
    const shares = watch.reading(value, 0.2, t > 3.2 ? 0 : 1, burns ? 1 : 0, 0.02);
    if (shares) return shares;
  }
  throw new Error('no rise was seen');
}
const best = (shares: Float64Array) => lagSeconds[shares.indexOf(Math.max(...shares))]!;

describe("the detector's lag by a whole rise", () => {
  it.each(lagSeconds.slice(1))('of %s s is told from every other that is not its neighbor', (lag) => {
    for (let seed = 1; seed <= 5; seed += 1) {
      const shares = sharesAfter(lag, seed);
      const k = lagSeconds.indexOf(lag);
      expect(best(shares)).toBe(lag);
      shares.forEach((share, j) => Math.abs(j - k) > 1 && expect(share).toBeLessThan(0.1));
    }
  });
  it('is not called shorter because the amplifier clips at three fifths', () => {
    for (let seed = 1; seed <= 5; seed += 1) {
      const shares = sharesAfter(1.2, seed, 3);
      expect(shares[lagSeconds.indexOf(1.2)]).toBeGreaterThan(0.3);
    }
  });
  it.each([0.5, 0.8, 1.2, 1.8] as const)(
    'of %s s is not called shorter by half where a noisy meter shows the clip',
    (lag) => {
      for (let seed = 1; seed <= 5; seed += 1) {
        const shares = sharesAfter(lag, seed, 3, 0.02);
        const k = lagSeconds.indexOf(lag);
        expect(best(shares)).toBeGreaterThanOrEqual(lagSeconds[k - 1]!);
        expect(best(shares)).toBeLessThanOrEqual(lagSeconds[k + 1]!);
        // Two or three readings on the way up tell neighbors apart badly.
        expect(shares[k]).toBeGreaterThan(0.05);
      }
    },
  );
  it('says nothing of a meter that stands still at one value', () => {
    const watch = createRiseWatch();
    watch.reading(2, 0.2, 1, 0, 0.02);
    for (let i = 0; i < 200; i += 1) expect(watch.reading(2, 0.2, 0, 1, 0.02)).toBeUndefined();
  });
  it('says nothing of a signal that never rose', () => {
    const watch = createRiseWatch();
    for (let i = 0; i < 200; i += 1) expect(watch.reading(0.01, 0.2, 1, 0, 0.02)).toBeUndefined();
  });
});
