import { describe, expect, it } from 'vitest';
import { frames } from '../../../electron/host/acquire/detect/serial-framing.ts';
import { matchingProfiles, describeLine, completeLines } from '../../../electron/host/acquire/detect/match-profiles.ts';
import { builtInProfiles } from '../../../shared/instruments/built-in.ts';
import { Profile } from '../../../shared/model/profile.ts';

const at9600 = { baudRate: 9600, ...frames['8N1'] };
const names = (lines: string[], serial: typeof at9600 | undefined = at9600) =>
  matchingProfiles(lines, builtInProfiles, serial).map(({ profile }) => profile.name);

describe('complete lines', () => {
  it('leave out the one that was cut by opening and the one that has not ended', () => {
    expect(completeLines('31\r\n2.32\r\n\r\n2.33\r\n2.', false)).toEqual(['2.32', '2.33']);
    expect(completeLines('2.31\r\n2.', true)).toEqual(['2.31']);
    expect(completeLines('2.31', true)).toEqual([]);
  });
});

describe('the description of a line', () => {
  it.each([
    ['2.31', 'one number a line'],
    ['+2.31 inH2O', 'one number a line with its unit'],
    // NR3 of IEEE 488.2 (from memory).
    ['+2.31000000E+00', 'one number a line, in the format of SCPI meters'],
    ['2.31,4.50', 'two numbers a line, separated by commas'],
    ['2.31;4.50;1e-3', '3 numbers a line, separated by semicolons'],
    ['P=2.31 S=4.50', 'two numbers a line'],
    ['READY', 'text without numbers'],
  ])('of "%s" is %s', (line, description) => {
    expect(describeLine(line)).toBe(description);
  });
});

describe('the matching profiles', () => {
  it('are the one with the unit that is printed', () => {
    expect(names(['230.5 Pa', '231.0 Pa'])).toEqual(['Manometer, one number a line, Pa']);
    expect(names(['4.61 V', '4.60 V'])).toEqual(['Multimeter, volts, one number a line']);
    expect(names(['2.31 inH2O', 'OL'])).toEqual(['Manometer, one number a line']);
  });

  it('are those that read both numbers of a line of two', () => {
    expect(names(['2.31,4.50', '2.32,4.51'])).toEqual(['Logger, pressure and signal, comma']);
  });

  it('are several for a bare number', () => {
    const found = names(['2.31', '2.32']);
    expect(found).toContain('Manometer, one number a line');
    expect(found).toContain('Multimeter, volts, one number a line');
    expect(found.some((name) => name.startsWith('Logger'))).toBe(false);
  });

  it('are none for text without numbers, nor for overload only', () => {
    expect(names(['READY', 'READY'])).toEqual([]);
    expect(names(['OL', 'OL'])).toEqual([]);
  });

  it('are derived for another speed and frame, and only once', () => {
    const serial = { baudRate: 19_200, ...frames['7E1'] };
    const [fit] = matchingProfiles(['4.61 V'], builtInProfiles, serial);
    expect(fit).toMatchObject({
      kept: false,
      profile: { name: 'Multimeter, volts, one number a line, 19200 baud 7E1', serial },
    });
    const profiles = [...builtInProfiles, fit!.profile];
    expect(matchingProfiles(['4.61 V'], profiles, serial)).toEqual([{ profile: fit!.profile, kept: true }]);
    // Back at the speed of the built-in one, that one matches.
    expect(matchingProfiles(['4.61 V'], profiles, at9600).map(({ profile, kept }) => [profile.name, kept])).toEqual([
      ['Multimeter, volts, one number a line', true],
    ]);
  });

  it('leave out a meter that must be polled, as this one sends by itself', () => {
    const polled = Profile.parse({
      name: 'Polled',
      mode: 'poll',
      poll: { send: 'READ?\n', everyMs: 200 },
      line: { format: 'number' },
      channels: [{ role: 'flame_signal', unit: 'V' }],
    });
    expect(matchingProfiles(['4.61 V'], [polled], at9600)).toEqual([]);
  });

  it('keep their own speed over a network, where it is set on the serial server', () => {
    expect(names(['4.61 V'], undefined)).toEqual(['Multimeter, volts, one number a line']);
  });
});
