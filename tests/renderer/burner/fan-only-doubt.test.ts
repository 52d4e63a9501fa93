import { describe, expect, it } from 'vitest';
import { fanOnlyDoubt } from '../../../renderer/burner/fan-only-doubt.ts';
import type { LatestReading } from '../../../renderer/state/live/latest-readings.ts';
import type { BurnerView } from '../../../shared/contract/api.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';

const reads = (value: number, more: Partial<LatestReading<PressureUnit>> = {}): LatestReading<PressureUnit> => ({
  value,
  unit: 'inH2O',
  flag: undefined,
  ageMs: 100,
  stale: false,
  port: 'gauge',
  ...more,
});
const shut: BurnerView = {
  gas: 'shut',
  flame: 'dark',
  regulator: 'at-rest',
  phase: 'before-gas',
  probability: 0.99,
  purge: { needed: false, purgedS: 0, waitedS: 0, wantedS: 60 },
  air: { confirmed: false },
};

describe('a fan-only pressure that the manometer contradicts', () => {
  it('is said, with the value that is read', () => {
    const doubt = fanOnlyDoubt(1.2, 'inH2O', reads(0.2), shut);
    expect(doubt?.read).toBeCloseTo(0.2, 12);
    expect(doubt?.text).toBe(
      'With gas shut the manometer reads 0.20 inH2O. If the fan runs now, that is the fan-only pressure.',
    );
  });
  it('is not taken for the fan-only pressure of light-off where it may be the air of a purge', () => {
    const text = fanOnlyDoubt(0.3, 'inH2O', reads(0.65), { ...shut, moreAir: true })?.text;
    expect(text).toContain('If the damper stands as at light-off');
    expect(text).toContain('leaks');
  });
  it('is given in the unit that was entered', () =>
    // 0.2 inH2O is 49.8 Pa (249.08891 Pa each, NIST SP 811).
    expect(fanOnlyDoubt(300, 'Pa', reads(0.2), shut)?.read).toBeCloseTo(49.818, 2));
  it('is asked about the fan where nothing is read', () =>
    expect(fanOnlyDoubt(0.5, 'inH2O', reads(0.01), shut)?.text).toContain('Is the fan running?'));
  it('is none where both agree, or nothing was entered', () => {
    expect(fanOnlyDoubt(0.25, 'inH2O', reads(0.2), shut)).toBeUndefined();
    expect(fanOnlyDoubt(2.2, 'inH2O', reads(2), shut)).toBeUndefined();
    expect(fanOnlyDoubt(undefined, 'inH2O', reads(0.2), shut)).toBeUndefined();
    expect(fanOnlyDoubt(Number.NaN, 'inH2O', reads(0.2), shut)).toBeUndefined();
  });
  it('is never taken from gas that may flow, nor from a meter in trouble', () => {
    for (const burner of [
      undefined,
      { ...shut, gas: 'flowing' as const },
      { ...shut, gas: 'unknown' as const },
      { ...shut, flame: 'burning' as const },
      { ...shut, flame: 'unknown' as const },
      { ...shut, pressureTrouble: { kind: 'frozen' as const, forS: 9 } },
      { ...shut, alarm: { kind: 'gas-unlit' as const, forS: 1, message: '' } },
    ])
      expect(fanOnlyDoubt(1.2, 'inH2O', reads(0.2), burner)).toBeUndefined();
    expect(fanOnlyDoubt(1.2, 'inH2O', reads(0.2, { stale: true }), shut)).toBeUndefined();
    expect(fanOnlyDoubt(1.2, 'inH2O', undefined, shut)).toBeUndefined();
  });
});
