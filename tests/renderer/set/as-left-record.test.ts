import { describe, expect, it } from 'vitest';
import { asLeftOpen, lossesAt } from '../../../renderer/set/as-left-record.ts';
import { columnOf } from '../state/column-of.ts';

describe('what the record says of a pressure that is to be as-left', () => {
  const lost = (elapsedS: number) => ({ elapsedS, kind: 'flame-lost' as const, text: '' });
  /** 2.78 inH2O for a minute, then 1.20. */
  const pressures = columnOf(Array.from({ length: 120 }, (_, s) => [s, s < 60 ? 2.78 : 1.2] as const));

  it('counts the losses of the flame that were there, and no others', () => {
    const marks = [lost(20), lost(40), lost(90), { elapsedS: 50, kind: 'gas-unlit' as const, text: '' }];
    expect(lossesAt(2.79, { marks }, pressures, 0.05)).toBe(2);
    expect(lossesAt(1.2, { marks }, pressures, 0.05)).toBe(1);
    expect(lossesAt(2, { marks }, pressures, 0.05)).toBe(0);
    // A mark before any reading says nothing of a pressure.
    expect(lossesAt(2.78, { marks: [lost(1)] }, columnOf([[30, 2.78]]), 0.05)).toBe(0);
  });

  const trial = (id: number, pressure: number, sparkDelayS: number, lit = true) => ({
    id,
    pressure,
    unit: 'inH2O' as const,
    sparkDelayS,
    lit,
  });
  it('says which trials the plan still asks for at this very pressure, the usual one being three and one delayed', () => {
    const open = (trials: ReturnType<typeof trial>[]) =>
      asLeftOpen(2.78, 'inH2O', { trials, setup: {} }, undefined, false);
    expect(open([trial(1, 2.78, 0), trial(2, 1.9, 0)])).toEqual([
      'No set point is known.',
      'Light-off is not proved here: 1 of 3 with the spark at once, 0 of 1 delayed.',
    ]);
    // More than were asked for are no more than that.
    const without = [1, 2, 3, 4].map((id) => trial(id, 2.78, 0));
    expect(open(without)[1]).toBe('Light-off is not proved here: 3 of 3 with the spark at once, 0 of 1 delayed.');
    const met = [trial(1, 2.78, 0), trial(2, 2.78, 0), trial(3, 2.78, 0), trial(4, 2.78, 5)];
    expect(open(met)).toEqual(['No set point is known.']);
    expect(asLeftOpen(2.78, 'inH2O', { trials: met, setup: {} }, undefined, true)).toEqual([
      'The set point is not calculated yet.',
    ]);
    expect(open([...met, trial(5, 2.78, 0, false)])[1]).toContain('0 of 3');
  });
});
