import { describe, expect, it } from 'vitest';
import { profileMatches } from '../../../renderer/meters/matching-profiles.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';

const bareNumber = builtInProfiles
  .filter(({ line }) => line.format === 'number')
  .map((profile) => ({ profile, kept: true }));
const names = (connected: ('pilot_pressure' | 'flame_signal')[]) =>
  profileMatches(bareNumber, new Set(connected)).map(({ profile }) => profile.name);

describe('the matching profiles that are offered', () => {
  it('begin with the first of each kind of meter, four at most', () => {
    expect(names([]).slice(0, 2)).toEqual(['Manometer, one number a line', 'Multimeter, volts, one number a line']);
    expect(names([])).toHaveLength(4);
  });

  it('leave out the role of a meter that is connected already', () => {
    expect(names(['pilot_pressure'])[0]).toBe('Multimeter, volts, one number a line');
    expect(names(['pilot_pressure']).some((name) => name.startsWith('Manometer'))).toBe(false);
    expect(names(['pilot_pressure', 'flame_signal'])).toEqual([]);
  });
});
