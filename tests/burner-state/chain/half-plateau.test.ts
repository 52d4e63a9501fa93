import { expect, it } from 'vitest';
import { halfPlateau } from '../../../shared/burner-state/chain/levels.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { captureOf, litAt11, openedAt10, readingsOf } from '../story.ts';

// A flame at 5 V that flickers throughout, with a standard deviation of 1 V and a memory of 0.7 s, for two minutes: half of its plateau is
// 2.5 V, however high its highest readings are. A fifth may be missing or too much: a signal that builds up passes through that in a tenth of
// its lag or so.
it.each([1, 2, 3, 4, 5, 6, 7, 8])(
  'half the plateau is half of what a flickering flame burns at on average: draw %d',
  (seed) => {
    const random = createRandom(seed);
    const stays = Math.exp(-0.2 / 0.7);
    let flicker = 0;
    const signal = (t: number) => {
      flicker = stays * flicker + Math.sqrt(1 - stays ** 2) * 1 * random.normal();
      return litAt11(t) + (t < 12 ? 0 : flicker);
    };
    const { levels } = trackCapture(captureOf(readingsOf({ seconds: 130, pressure: openedAt10, signal })), {});
    expect(Math.abs(halfPlateau(levels) - 2.5)).toBeLessThan(0.5);
  },
);
