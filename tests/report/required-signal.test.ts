import { describe, expect, it } from 'vitest';
import type { AnalysisResult } from '../../shared/model/results/analysis-result.ts';
import type { Setup } from '../../shared/model/setup.ts';
import { requiredSignalRows } from '../../shared/report/required-signal.ts';
import { result } from './fixture.ts';

const rows = (setup: Setup, over: Partial<AnalysisResult> = {}): string[][] =>
  requiredSignalRows({ ...result, ...over }, setup).map(({ label, value }) => [label, value]);

// The plateau of the fixture is 4.613 V: less 10 % it is 4.15 V, less 20 % 3.69 V.
describe('the required signal', () => {
  it('shows what the maker asks and what the drop from the plateau asks, and names the higher one', () => {
    expect(rows({ minimumSignal: { value: 1.25, unit: 'V' } })).toEqual([
      ['Minimum flame signal', '1.25 V'],
      ['Plateau less the allowed 10.0 % drop', '4.15 V'],
      ['Required signal', '4.15 V, the higher of the two, set by the allowed drop below the plateau'],
    ]);
  });

  it('names the minimum flame signal where that is the higher one', () => {
    const setup: Setup = { minimumSignal: { value: 4, unit: 'V' }, signalDropFraction: 0.2 };
    expect(rows(setup, { requiredSignal: { value: 4, basis: 'minimum-signal' } })).toEqual([
      ['Minimum flame signal', '4.00 V'],
      ['Plateau less the allowed 20.0 % drop', '3.69 V'],
      ['Required signal', '4.00 V, the higher of the two, set by the minimum flame signal'],
    ]);
  });

  it('puts the minimum flame signal into the unit of the sweep', () => {
    expect(rows({ minimumSignal: { value: 1250, unit: 'mV' } })[0]).toEqual(['Minimum flame signal', '1.25 V']);
  });

  it.each([[{}], [{ minimumSignal: { value: 2, unit: 'uA' } }]] as [Setup][])(
    'compares nothing without a minimum in a unit of the signal: %j',
    (setup) => {
      expect(rows(setup)).toEqual([
        ['Minimum flame signal', 'not stated'],
        ['Plateau less the allowed 10.0 % drop', '4.15 V'],
        ['Required signal', '4.15 V, set by the allowed drop below the plateau'],
      ]);
    },
  );
});
