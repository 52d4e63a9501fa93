import { describe, expect, it } from 'vitest';
import { requiredSignalRows } from '../../shared/report/required-signal.ts';
import type { AnalysisResult } from '../../shared/model/analysis-result.ts';

const found = (value: number, basis: AnalysisResult['requiredSignal']['basis']) => ({
  requiredSignal: { value, basis },
  plateau: { value: 4.61, ci: [4.59, 4.63] as [number, number] },
  signalUnit: 'V' as const,
});

// By hand: a tenth below a plateau of 4.61 V is 0.9 x 4.61 = 4.149 V; a quarter below it, 0.75 x 4.61 = 3.4575 V.
describe('the rows for the required signal', () => {
  it('show both requirements and name the drop from the plateau where it is the higher', () => {
    const setup = { minimumSignal: { value: 1250, unit: 'mV' as const } };
    expect(requiredSignalRows(found(4.149, 'drop-fraction'), setup)).toEqual([
      ['Required signal', '4.15 V'],
      ['Maker’s minimum', '1.25 V'],
      ['Plateau less 10 % (higher)', '4.15 V'],
    ]);
  });

  it('name the maker’s minimum where that is the higher', () => {
    const setup = { minimumSignal: { value: 4, unit: 'V' as const }, signalDropFraction: 0.25 };
    expect(requiredSignalRows(found(4, 'minimum-signal'), setup)).toEqual([
      ['Required signal', '4.00 V'],
      ['Maker’s minimum (higher)', '4.00 V'],
      ['Plateau less 25 %', '3.46 V'],
    ]);
  });

  it('say so where the maker’s minimum is in a kind of unit that was not measured', () => {
    const setup = { minimumSignal: { value: 2, unit: 'uA' as const } };
    expect(requiredSignalRows(found(4.149, 'drop-fraction'), setup)[1]).toEqual([
      'Maker’s minimum',
      '2.00 µA, not comparable',
    ]);
  });

  it('say so where the maker gives no minimum', () => {
    expect(requiredSignalRows(found(4.149, 'drop-fraction'), {}).slice(1)).toEqual([
      ['Maker’s minimum', 'not given'],
      ['Plateau less 10 %', '4.15 V'],
    ]);
  });
});
