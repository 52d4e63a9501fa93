import { Profile } from '../model/profile.ts';

const oneNumber = (name: string, role: 'pilot_pressure' | 'flame_signal', unit: string): Profile =>
  Profile.parse({ name, line: { format: 'number' }, channels: [{ role, unit }] });

const logger = (name: string, delimiter: string): Profile =>
  Profile.parse({
    name,
    line: { format: 'delimited', delimiter },
    channels: [
      { role: 'pilot_pressure', unit: 'inH2O', field: 0 },
      { role: 'flame_signal', unit: 'V', field: 1 },
    ],
  });

/** Air, spark and valve: what a purge and the moment of a spark are seen from. */
const burnerLogger: Profile = Profile.parse({
  name: 'Logger, fan pressure, ignition and pilot valve, comma',
  line: { format: 'delimited', delimiter: ',' },
  channels: [
    { role: 'fan_pressure', unit: 'inH2O', field: 0 },
    { role: 'ignition', unit: 'on', field: 1 },
    { role: 'pilot_valve', unit: 'on', field: 2 },
  ],
});

/**
 * READ? is the SCPI query for one new reading of whatever the meter is set to (SCPI 1999, volume 2, 3.4; from memory). It
 * does not change the meter's settings, so the technician must set it to DC volts.
 */
const readQuery = (name: string, unit: string): Profile =>
  Profile.parse({
    name,
    mode: 'poll',
    poll: { send: 'READ?\n', everyMs: 500 },
    line: { format: 'scpi' },
    channels: [{ role: 'flame_signal', unit }],
  });

/**
 * Profiles that need no file: what many meters do, named after the format of their lines, never after a brand.
 * All at 9600 baud, 8 data bits, no parity. A unit that the meter prints after its number overrides the profile's.
 * There is none for Modbus, as every maker assigns registers differently.
 */
export const builtInProfiles: Profile[] = [
  oneNumber('Manometer, one number a line', 'pilot_pressure', 'inH2O'),
  oneNumber('Manometer, one number a line, Pa', 'pilot_pressure', 'Pa'),
  oneNumber('Manometer, one number a line, mbar', 'pilot_pressure', 'mbar'),
  oneNumber('Manometer, one number a line, kPa', 'pilot_pressure', 'kPa'),
  oneNumber('Multimeter, volts, one number a line', 'flame_signal', 'V'),
  oneNumber('Multimeter, millivolts, one number a line', 'flame_signal', 'mV'),
  oneNumber('Microammeter, one number a line', 'flame_signal', 'uA'),
  oneNumber('Milliammeter, one number a line', 'flame_signal', 'mA'),
  readQuery('Multimeter, SCPI, volts, asked with READ?', 'V'),
  logger('Logger, pressure and signal, comma', ','),
  logger('Logger, pressure and signal, semicolon', ';'),
  logger('Logger, pressure and signal, tab', '\t'),
  burnerLogger,
];

/** The built-in profile of that name, if there is one. */
export const builtInProfile = (name: string): Profile | undefined =>
  builtInProfiles.find((profile) => profile.name === name);
