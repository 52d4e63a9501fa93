import { describe, expect, it } from 'vitest';
import {
  formatConfidence,
  formatDuration,
  formatElapsed,
  formatLowerBound,
  formatMargin,
  formatNumber,
  formatPressure,
  formatSignal,
  formatWallTime,
  guardedNumber,
  pressureNumber,
  withSign,
} from '../../shared/model/format.ts';
import { pascalsPer, pressureUnits } from '../../shared/model/units.ts';

describe('numbers as text', () => {
  it('writes a pressure and a signal with the decimals of their unit', () => {
    expect(formatPressure(2.2783, 'inH2O')).toBe('2.28 inH2O');
    expect(formatPressure(567.49, 'Pa')).toBe('567 Pa');
    expect(formatPressure(2.5, 'inH2O_60F')).toBe('2.50 inH2O (60 °F)');
    expect(formatSignal(3.456, 'uA')).toBe('3.46 µA');
    expect(formatSignal(4613, 'mV')).toBe('4613 mV');
  });

  it('never prints a pressure coarser than 0.01 inH2O or much finer', () => {
    for (const unit of pressureUnits) {
      const decimals = (pressureNumber(0, unit).split('.')[1] ?? '').length;
      const stepInPascal = 10 ** -decimals * pascalsPer[unit];
      expect(stepInPascal, unit).toBeLessThan(0.0101 * pascalsPer.inH2O);
      expect(stepInPascal, unit).toBeGreaterThan(0.001 * pascalsPer.inH2O);
    }
  });

  it('prints a dash for what is not a number, and no minus before zero', () => {
    expect(formatNumber(Number.NaN, 2)).toBe('–');
    expect(formatNumber(Infinity, 2)).toBe('–');
    expect(formatNumber(-0.001, 2)).toBe('0.00');
    expect(formatNumber(-0.006, 2)).toBe('-0.01');
  });

  it('puts a plus only before what is printed as more than zero', () => {
    expect(withSign(0.001, '0.00')).toBe('0.00');
    expect(withSign(0.12, '0.12')).toBe('+0.12');
    expect(withSign(-0.12, '-0.12')).toBe('-0.12');
  });

  it('rounds a proven bound as tables of such bounds do, and never to certainty', () => {
    // 10 of 10 at 95 % one-sided: 0.05 ** (1 / 10) = 0.7411; 22 of 22 at 90 %: 0.1 ** (1 / 22) = 0.9006.
    expect(formatLowerBound(0.05 ** (1 / 10))).toBe('74 %');
    expect(formatLowerBound(0.1 ** (1 / 22))).toBe('90 %');
    // 3 of 3 at 95 % one-sided: 0.05 ** (1 / 3) = 0.3684, which CONTRACTS.md prints as 37 %.
    expect(formatLowerBound(0.05 ** (1 / 3))).toBe('37 %');
    expect(formatLowerBound(0.998)).toBe('99 %');
    expect(formatLowerBound(0.57)).toBe('57 %');
    expect(formatLowerBound(0.29)).toBe('29 %');
  });

  it('rounds a high bound down, so that no claim is printed that is not shown', () => {
    // One trial short of 90 % at 90 %, and of 95 % at 95 %: 0.1 ** (1 / 21) = 0.8962, 0.05 ** (1 / 58) = 0.9497.
    expect(formatLowerBound(0.1 ** (1 / 21))).toBe('89.6 %');
    expect(formatLowerBound(0.05 ** (1 / 58))).toBe('94.9 %');
    expect(formatLowerBound(0.9)).toBe('90 %');
    expect(formatLowerBound(0.835)).toBe('83.5 %');
  });

  it('writes confidences without a tail of binary digits', () => {
    expect(formatConfidence(0.95)).toBe('95 %');
    expect(formatConfidence(0.999)).toBe('99.9 %');
    expect(formatConfidence(0.7)).toBe('70 %');
  });

  it('rounds guarded numbers so that they promise no more than was found', () => {
    // By hand: an end moves inward, a margin shrinks, and what is a whole digit stays it.
    expect(guardedNumber(2.8767, 'inH2O', 'down')).toBe('2.87');
    expect(guardedNumber(1.1812, 'inH2O', 'up')).toBe('1.19');
    expect(guardedNumber(0.29, 'inH2O', 'up')).toBe('0.29');
    expect(guardedNumber(-0.004, 'inH2O', 'down')).toBe('-0.01');
    expect(guardedNumber(716.2, 'Pa', 'down')).toBe('716');
    expect(formatMargin(1.098, 'inH2O')).toBe('1.09 inH2O');
    expect(guardedNumber(Number.NaN, 'Pa', 'up')).toBe('–');
  });

  it('writes times so that no minute has sixty seconds', () => {
    expect(formatElapsed(754.3)).toBe('12:34.3');
    expect(formatElapsed(59.97)).toBe('1:00.0');
    expect(formatElapsed(-3.2)).toBe('-0:03.2');
    expect(formatDuration(59.6)).toBe('1 min 0 s');
    expect(formatDuration(3840)).toBe('1 h 4 min');
  });

  it('keeps wall time in the zone in which it was written', () => {
    expect(formatWallTime('2026-03-11T08:15:30.500+01:00')).toBe('2026-03-11 08:15:30 (UTC+01:00)');
    expect(formatWallTime('2026-03-11T08:15:30Z')).toBe('2026-03-11 08:15:30 (UTC)');
    expect(formatWallTime('2026-03-11T08:15:30+00:00')).toBe('2026-03-11 08:15:30 (UTC)');
    expect(formatWallTime('2026-03-11T08:15')).toBe('2026-03-11 08:15 (time zone not given)');
    expect(formatWallTime('last Tuesday')).toBe('last Tuesday');
  });
});
