import { describe, expect, it } from 'vitest';
import { convertPressure, convertSignal, pascalsPer, type PressureUnit } from '../../shared/model/units.ts';
import reference from '../reference/pressure-units.json' with { type: 'json' };

interface Row {
  unit: string;
  symbol: string;
  exact_or_defined_Pa: number | null;
  sp811_printed_Pa: number | null;
  printed_half_unit_Pa?: number;
  from_water_density_Pa?: { tanaka: number };
}

const rows = reference.expected.rows as Row[];
const row = (symbol: string) => {
  const found = rows.find((one) => one.symbol === symbol);
  if (!found) throw new Error(`no row ${symbol} in the reference`);
  return found;
};

// Source: NIST Special Publication 811 (2008), appendix B.8, as tests/reference/pressure-units.json gives it.
describe('pressure units', () => {
  it.each([
    ['inH2O', 'inH2O_conv'],
    ['inH2O_4C', 'inH2O_4C'],
    ['inH2O_60F', 'inH2O_60F'],
  ] as [PressureUnit, string][])('%s agrees with NIST SP 811 to half a unit of its last digit', (unit, symbol) => {
    const { sp811_printed_Pa: printed, printed_half_unit_Pa: half } = row(symbol);
    expect(Math.abs(pascalsPer[unit] - printed!)).toBeLessThanOrEqual(half!);
  });

  it('the 20 degC column follows from the density of water at 20 degC (Tanaka et al. 2001)', () => {
    const expected = row('inH2O_20C').from_water_density_Pa!.tanaka;
    expect(Math.abs(pascalsPer.inH2O_20C / expected - 1)).toBeLessThan(2e-6);
  });

  it('the defined units are exact', () => {
    // Definitions: 1 lb = 0.45359237 kg, 1 in = 25.4 mm, g = 9.80665 m/s2 (NIST SP 811).
    expect(pascalsPer.psi).toBeCloseTo((0.45359237 * 9.80665) / 0.0254 ** 2, 9);
    expect(pascalsPer.mmH2O).toBeCloseTo(9.80665, 12);
    expect(pascalsPer.inH2O).toBeCloseTo(0.0254 * 1000 * 9.80665, 9);
  });

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
