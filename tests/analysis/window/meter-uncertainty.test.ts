import { describe, expect, it } from 'vitest';
import { analyze } from '../../../shared/analysis/analyze.ts';
import {
  digitUncertainty,
  pressureUncertainty,
  requiredSignalUncertainty,
  signalUncertainty,
} from '../../../shared/analysis/window/meter-uncertainty.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { drawSweep } from '../../benchmark/sweep/kinds.ts';

const setup: Setup = {
  pressureAccuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'inH2O' },
  signalAccuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'V' },
};

// JCGM 100:2008, 4.3.7: half width / sqrt(3), worked by hand.
describe('standard uncertainty of a meter', () => {
  it('is percent of the reading plus the absolute part, as a rectangle', () => {
    // 0.5 % of 2 inH2O and 0.01 inH2O: 0.02 / 1.7320508.
    expect(pressureUncertainty(setup, 'inH2O', 2)).toBeCloseTo(0.011547005, 9);
    // In pascals, 249.08891 to the inch (NIST SP 811).
    expect(pressureUncertainty(setup, 'Pa', 2 * 249.08891)).toBeCloseTo(0.011547005 * 249.08891, 6);
    // 0.5 % of 4 V and 0.01 V: 0.03 / 1.7320508.
    expect(signalUncertainty(setup, 'V', 4)).toBeCloseTo(0.017320508, 9);
  });

  it('is zero where no accuracy is stated, or in another kind of unit', () => {
    expect(pressureUncertainty({}, 'inH2O', 2)).toBe(0);
    expect(signalUncertainty(setup, 'uA', 4)).toBe(0);
  });

  it('counts a zero that is not taken off as a rectangle of its own size, beside the accuracy (GUM F.2.4.5)', () => {
    const zeroed: Setup = {
      ...setup,
      pressureZero: { value: -0.02, unit: 'inH2O' },
      darkSignal: { value: 40, unit: 'mV' },
    };
    // Root of 0.02^2 + 0.02^2, / 1.7320508.
    expect(pressureUncertainty(zeroed, 'inH2O', 2)).toBeCloseTo(0.016329932, 9);
    // Root of 0.03^2 + 0.04^2 = 0.05, / 1.7320508.
    expect(signalUncertainty(zeroed, 'V', 4)).toBeCloseTo(0.028867513, 9);
    // Alone, without an accuracy: 0.04 / 1.7320508. A unit of another kind is no zero of this meter.
    expect(signalUncertainty({ darkSignal: { value: 0.04, unit: 'V' } }, 'V', 4)).toBeCloseTo(0.023094011, 9);
    expect(signalUncertainty({ darkSignal: { value: 0.04, unit: 'V' } }, 'uA', 4)).toBe(0);
  });

  it('counts in full for a minimum signal, and only its absolute part times the drop for a drop from the plateau', () => {
    const minimum = { value: 1.25, basis: 'minimum-signal' } as const;
    // 0.00625 V + 0.01 V = 0.01625 V, / 1.7320508.
    expect(requiredSignalUncertainty(setup, 'V', minimum, 0.1)).toBeCloseTo(0.009381942, 9);
    const drop = { value: 4.14, basis: 'drop-fraction' } as const;
    // A tenth of 0.01 V, / 1.7320508.
    expect(requiredSignalUncertainty(setup, 'V', drop, 0.1)).toBeCloseTo(0.00057735, 9);
  });

  it('moves the guarded ends through the slope of a logistic shoulder', () => {
    // A shoulder A L((p - low) / w) has the slope A L (1 - L) / w: at nine tenths of its height 0.09 A / w, by hand.
    const { capture, facts } = drawSweep('two shoulders', 3);
    const accuracy = { percentOfReading: 0, absolute: 0.5, unit: 'V' } as const;
    const windowWith = (some: Setup) => {
      const outcome = analyze(capture, some);
      if (!outcome.ok) throw new Error(outcome.fault.message);
      return outcome.value.result.window;
    };
    const [plain, stated] = [windowWith({}), windowWith({ signalAccuracy: accuracy })];
    const { amplitude, lowWidth, highWidth } = facts.curve;
    for (const [side, width] of [
      ['low', lowWidth],
      ['high', highWidth],
    ] as const) {
      const guard = (window: typeof plain) => Math.abs(window[side]!.guarded - window[side]!.value);
      const term = Math.sqrt(guard(stated) ** 2 - guard(plain) ** 2) / 2;
      // Drop fraction 0.1 of 0.5 V, as a rectangle, over the slope; the fitted width is known to a few percent.
      const expected = (0.1 * 0.5) / Math.sqrt(3) / ((0.09 * amplitude) / width);
      expect(term / expected).toBeGreaterThan(0.9);
      expect(term / expected).toBeLessThan(1.1);
    }
  });
});

describe('uncertainty of a last digit', () => {
  it('is the first harmonic of the quantization error where little noise dithers it, and none where much does', () => {
    // Widrow and Kollar 2008, chapter 4: amplitude q / pi without noise, its root mean square q / (pi sqrt(2)) = 0.2251 q.
    expect(digitUncertainty(0.05, 0)).toBeCloseTo(0.05 * 0.22508, 6);
    // Noise of half a digit leaves exp(-pi^2 / 2) = 0.72 % of that.
    expect(digitUncertainty(0.05, 0.025)).toBeCloseTo(0.05 * 0.22508 * 0.0071919, 7);
    expect(digitUncertainty(0.05, 0.1)).toBeLessThan(1e-12);
    expect(digitUncertainty(0, 0.1)).toBe(0);
  });
});
