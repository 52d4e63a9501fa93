import { describe, expect, it } from 'vitest';
import { convertPressure, convertSignal } from '../../shared/model/units.ts';

// That the factors agree with NIST SP 811 is checked in tests/verify/units.ts.
describe('pressure units', () => {
  it('a value in its own unit stays the very same number', () => {
    expect(convertPressure(0.1 + 0.2, 'psi', 'psi')).toBe(0.1 + 0.2);
  });
});

describe('signal units', () => {
  it('turns millivolts into volts, and no voltage into a current', () => {
    expect(convertSignal(1250, 'mV', 'V')).toBeCloseTo(1.25, 12);
    expect(convertSignal(4, 'mA', 'uA')).toBeCloseTo(4000, 9);
    expect(convertSignal(1, 'V', 'uA')).toBeUndefined();
  });
});
