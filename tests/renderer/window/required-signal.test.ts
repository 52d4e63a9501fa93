import { describe, expect, it } from 'vitest';
import { requiredSignalRows } from '../../../renderer/window/required-signal.ts';
import { result } from '../../report/fixture.ts';

// The plateau of the fixture is 4.613 V: less 10 % it is 4.1517 V, less 25 % 3.4598 V.
describe('the required signal beside the window', () => {
  it('is the higher of two levels, and the drop from the plateau is named where that is the higher one', () => {
    expect(requiredSignalRows(result, { minimumSignal: { value: 1250, unit: 'mV' } })).toEqual([
      ['Required signal', '4.15 V'],
      ['Minimum flame signal', '1.25 V'],
      ['Plateau less 10 % (higher)', '4.15 V'],
    ]);
  });

  it('names the minimum flame signal where that is the higher one', () => {
    const higher = { ...result, requiredSignal: { value: 4, basis: 'minimum-signal' as const } };
    const setup = { minimumSignal: { value: 4, unit: 'V' as const }, signalDropFraction: 0.25 };
    expect(requiredSignalRows(higher, setup)).toEqual([
      ['Required signal', '4.00 V'],
      ['Minimum flame signal (higher)', '4.00 V'],
      ['Plateau less 25 %', '3.46 V'],
    ]);
  });

  it('names neither where there is no minimum, or none in a unit that was measured', () => {
    expect(requiredSignalRows(result, {}).slice(1)).toEqual([
      ['Minimum flame signal', 'not entered'],
      ['Plateau less 10 %', '4.15 V'],
    ]);
    const microamps = { minimumSignal: { value: 2, unit: 'uA' as const } };
    expect(requiredSignalRows(result, microamps)[1]).toEqual(['Minimum flame signal', '2.00 µA, not comparable']);
  });
});
