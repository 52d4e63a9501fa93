import { describe, expect, it } from 'vitest';
import type { Known } from '../../../shared/burner-state/chain/bins.ts';
import { follow, type Live, readingsOf, type Story, towards } from '../story.ts';

/** Nobody has entered the fan-only pressure. */
const known: Known = { signalUnit: 'V', trialSeconds: 10 };
const dark = () => 0.02;
const followed = (pressure: Story['pressure']): Live[] =>
  follow(readingsOf({ seconds: 90, pressure, signal: dark }), 90, undefined, known);
const gasAfter = (told: readonly Live[], s: number) =>
  new Set(told.filter(({ now }) => now.atS > s).map(({ now }) => now.moment.gas));
const opensAtS = 40;

describe('gas that comes on unlit, for the first time and at a low pressure', () => {
  it.each([0.1, 0.3, 0.5])(
    'is never called shut where it stands at 0.8 or 0.53 inH2O, behind a valve of %f s',
    (valveS) => {
      for (const to of [0.8, 0.53])
        for (const shut of [0, 0.1]) {
          const told = followed((t) => towards(shut, to, valveS, t, opensAtS));
          expect(gasAfter(told, opensAtS + 3), `from ${shut} to ${to}`).not.toContain('shut');
        }
    },
  );
  it('is not known at 0.35 inH2O: a fan might stand there, though none runs up in three tenths of a second', () => {
    for (const shut of [0, 0.1]) {
      const told = followed((t) => towards(shut, 0.35, 0.1, t, opensAtS));
      expect(gasAfter(told, opensAtS + 3), `from ${shut}`).not.toContain('shut');
    }
  });
  it('raises the alarm after the time of the trial where no fan stands', () => {
    const told = followed((t) => towards(0.1, 1, 0.3, t, opensAtS));
    expect(told.find(({ alarm }) => alarm)?.nowS).toBeLessThan(opensAtS + 12);
  });
});

describe('a fan that runs up from a standstill', () => {
  // Its pressure goes with the square of its speed.
  it.each([0.8, 1, 2, 4])('opens no valve and raises no alarm, %f s to two thirds of its speed', (spinS) => {
    for (const to of [0.2, 0.3, 0.5]) {
      const told = followed((t) => to * (1 - Math.exp(-Math.max(0, t - opensAtS) / spinS)) ** 2);
      expect(
        told.some(({ alarm }) => alarm),
        `to ${to}`,
      ).toBe(false);
      expect(gasAfter(told, 5), `to ${to}`).not.toContain('flowing');
    }
  });
});
