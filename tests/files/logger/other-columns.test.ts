import { describe, expect, it } from 'vitest';
import { proposeMapping } from '../../../shared/files/logger/propose-mapping.ts';

const proposed = (pressure: string, flame = 'Flame signal [V]') => {
  const rows = ['0.0', '0.5', '1.0', '1.5'].map((t) => `${t};2.50;4.60`);
  const found = proposeMapping('f.txt', [`Time [s];${pressure};${flame}`, ...rows].join('\n'));
  if (!found.ok) throw new Error(found.fault.message);
  return found.value;
};
const roles = (pressure: string, flame?: string) => proposed(pressure, flame).columns.map(({ role }) => role);

describe('a column whose name speaks of something else', () => {
  it.each([
    'Air pressure [mbar]',
    'Combustion air pressure [mbar]',
    'Windbox pressure [inH2O]',
    'Wind box press. [inH2O]',
    'Steam pressure psi',
    'Dampfdruck [mbar]',
    'Water pressure [psi]',
    'Fuel oil pressure [psi]',
    'Main gas pressure [mbar]',
    'main_gas_pressure_mbar',
    'MainGasPressure [mbar]',
    'Manifold pressure [inH2O]',
    'Burner pressure [inH2O]',
    'Brennerdruck [mbar]',
    'Boiler pressure [psi]',
    'Pilot pressure setpoint [inH2O]',
    'Pilot pressure set point [inH2O]',
    'Pilot air pressure [mbar]',
    'Exhaust pressure [Pa]',
    'Differential pressure [Pa]',
  ])('is not taken for the pilot pressure without being asked: %s', (name) => {
    expect(roles(name)).toEqual(['flame_signal']);
    expect(proposed(name).open.map(({ fault }) => fault.facts?.['key'])).toEqual(['columns']);
  });

  it.each([
    'Pressure [mbar]',
    'Gas pressure [mbar]',
    'Pilot pressure [mbar]',
    'Pilot burner pressure [mbar]',
    'Main burner, pilot gas [mbar]',
    'Zündgasdruck [mbar]',
    'Druck [mbar]',
    'Pressure, inches of water (inH2O)',
    'P1 [Pa]',
  ])('but this is: %s', (name) => expect(roles(name)).toEqual(['pilot_pressure', 'flame_signal']));

  it.each([
    'Flame temperature [mV]',
    'Main flame [V]',
    'Main flame signal [V]',
    'Hauptflamme [V]',
    'Flame relay [V]',
    'Steam signal [mA]',
  ])('is not taken for the flame signal without being asked: %s', (name) => {
    expect(roles('Pressure [mbar]', name)).toEqual(['pilot_pressure']);
    expect(proposed('Pressure [mbar]', name).open.map(({ fault }) => fault.facts?.['key'])).toEqual(['columns']);
  });

  it.each(['Flame [V]', 'Pilot flame [V]', 'Signal [uA]', 'Flamme [V]', 'Main burner pilot flame [V]'])(
    'but this is: %s',
    (name) => expect(roles('Pressure [mbar]', name)).toEqual(['pilot_pressure', 'flame_signal']),
  );
});

it.each([
  ['Pressure inHg', 'inHg'],
  ['Pressure [mmHg]', 'mmHg'],
  ['Pressure_mmHg', 'mmHg'],
  ['Pressure mPa', 'mPa'],
  ['Pilot pressure torr', 'torr'],
])('a unit that is not known is named as that: %s', (name, unit) => {
  const [point] = proposed(name).open;
  expect(point?.fault.message).toContain(`has the unit "${unit}", which is not known here`);
  expect(point?.fault.facts?.['key']).toBe('columns');
});

it('a column without any unit is said to have none', () =>
  expect(proposed('Pressure').open[0]?.fault.message).toContain('has no unit'));
