import { describe, expect, it } from 'vitest';
import type { CountedTrial } from '../../shared/light-off/at-setting.ts';
import { lightingBand } from '../../shared/light-off/lighting-band.ts';
import { fitBothSides, lightingOf } from '../../shared/light-off/lighting.ts';

const trial = (pressure: number, lit = true, sparkDelayS: number | undefined = 0): CountedTrial => ({
  pressure,
  unit: 'inH2O',
  lit,
  ...(sparkDelayS !== undefined && { sparkDelayS }),
});
const fit = (...trials: CountedTrial[]) =>
  fitBothSides(trials, () => true, { unit: 'inH2O', center: 2.5, toleranceAt: () => 0.1 });

describe('the two sides of the lighting model', () => {
  it('share what was tried within the tolerance of the pressure that lit nearest to the middle', () => {
    const { low, high } = fit(trial(2.3), trial(2.35), trial(2.45), trial(1.5), trial(3.4), trial(2.6, false));
    expect(low!.trials.map(({ pressure }) => pressure)).toEqual([2.3, 2.35, 2.45, 1.5]);
    expect(high!.trials.map(({ pressure }) => pressure)).toEqual([2.35, 2.45, 3.4, 2.6]);
  });

  it('leave out trials whose spark nobody knows, and count them', () => {
    const { ['sparkDelayS']: _, ...unknown } = trial(2.5);
    expect(fit(trial(2.5), unknown, unknown)).toMatchObject({ leftOut: 2, tried: [{ pressure: 2.5 }] });
  });

  it('are one where nothing was tried on the other', () => {
    const { low, high } = fit(trial(3), trial(3.4));
    expect(low!.trials).toHaveLength(1);
    expect(high!.trials).toHaveLength(2);
    expect(lightingOf(fit(), 0.9, 0.95)).toEqual({ wanted: 0.9, leftOut: 0 });
  });

  it('take trials in pascals at the same pressure', () => {
    const { tried } = fit({ pressure: 2.5 * 249.08891, unit: 'Pa', lit: true, sparkDelayS: 0 });
    expect(tried[0]!.pressure).toBeCloseTo(2.5, 9);
  });

  it('estimate at a few of many pressures, lowest and highest among them, and draw a band of as many steps', () => {
    const many = Array.from({ length: 120 }, (_, i) => trial(2.5 + i / 100, i < 100 || i % 2 === 0));
    const models = fit(...many);
    const { estimates } = lightingOf(models, 0.9, 0.95).high!;
    const pressures = estimates.map(({ pressure }) => pressure);
    expect(pressures.length).toBeLessThanOrEqual(21);
    expect(pressures.length).toBeGreaterThan(15);
    // All that lit; those at most 0.1 below the middle belong to both sides.
    expect(pressures.at(-1)).toBe(3.69);
    expect(pressures[0]).toBe(2.5);
    expect(lightingBand(models, 0.95).pressure.length).toBeLessThan(40);
  });

  it('draw their bands over what was tried with the spark at once and no farther, around the estimate', () => {
    const { pressure, low, high, probability } = lightingBand(
      fit(trial(2.5), trial(2.5), trial(3.2), trial(3.2, false), trial(1.6), trial(1.6, false), trial(3.7, true, 5)),
      0.95,
    );
    const known = [...pressure].filter((p) => !Number.isNaN(p));
    expect([Math.min(...known), Math.max(...known)]).toEqual([1.6, 3.2]);
    // Two lines with a gap between them, each in the order of its pressures.
    const gap = pressure.findIndex((p) => Number.isNaN(p));
    expect([pressure[0], pressure[gap - 1], pressure[gap + 1], pressure.at(-1)]).toEqual([1.6, 2.5, 2.5, 3.2]);
    pressure.forEach((p, i) => {
      if (Number.isNaN(p)) return;
      expect(low[i]).toBeLessThanOrEqual(probability[i]!);
      expect(high[i]).toBeGreaterThanOrEqual(probability[i]!);
    });
  });

  it('draw none on a side where all lit', () => {
    const { pressure } = lightingBand(fit(trial(2.5), trial(2.5), trial(3.2), trial(3.2, false), trial(1.6)), 0.95);
    expect([pressure[0], pressure.at(-1)]).toEqual([2.5, 3.2]);
    expect(pressure.some((p) => Number.isNaN(p))).toBe(false);
    expect(lightingBand(fit(trial(2.5), trial(3.2), trial(1.6)), 0.95).pressure).toHaveLength(0);
  });
});
