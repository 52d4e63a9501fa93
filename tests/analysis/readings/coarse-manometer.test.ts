import { expect, it } from 'vitest';
import { answer } from '../answer.ts';
import { goodPilot, record, sweepDownAndUp } from '../burner-by-hand.ts';

it('calls no manometer frozen whose last digit is coarser than its noise, at rest until the valve shuts', () => {
  const fine = record(goodPilot, [...sweepDownAndUp, { seconds: 60 }, { seconds: 20, valve: 'shut' }]);
  const readings = fine.readings.map((each) =>
    each.role === 'pilot_pressure' ? { ...each, value: Math.round(each.value * 50) / 50 } : each,
  );
  const { result } = answer({ ...fine, readings });
  expect(result.warnings.map(({ code }) => code)).not.toContain('meter-frozen');
  expect(result.phases!.filter(({ gas, from_s }) => gas === 'unknown' && from_s > 2 && from_s < 210)).toEqual([]);
});
