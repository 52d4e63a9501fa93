import { expect, it } from 'vitest';
import { Profile } from '../../../shared/model/profile.ts';
import { writtenRequests } from '../../../renderer/meters/written-requests.ts';

const channels = [{ role: 'pilot_pressure', unit: 'Pa' }];

it('shows a text request with its control characters named, and its bytes in ASCII', () => {
  const profile = Profile.parse({
    name: 'polled',
    mode: 'poll',
    poll: { send: 'READ?\r\n', everyMs: 200 },
    line: { format: 'number' },
    channels,
  });
  expect(writtenRequests(profile)).toEqual([{ words: 'READ? CR LF', bytes: '52 45 41 44 3F 0D 0A' }]);
});

it('shows each read request of a Modbus profile by its registers, with the frame as it goes out', () => {
  const profile = Profile.parse({
    name: 'registers',
    mode: 'poll',
    poll: { everyMs: 200 },
    line: { format: 'modbus-rtu', unitId: 1, function: 3, address: 107, type: 'int16' },
    channels: [...channels, { role: 'flame_signal', unit: 'V', function: 4, address: 8, type: 'float32' }],
  });
  // CRC-16 of Modbus over Serial Line V1.02, 6.2.2, by a bitwise program of its own.
  expect(writtenRequests(profile)).toEqual([
    { words: 'Modbus, unit 1: read register 107 (function 3)', bytes: '01 03 00 6B 00 01 F5 D6' },
    { words: 'Modbus, unit 1: read registers 8 and 9 (function 4)', bytes: '01 04 00 08 00 02 F0 09' },
  ]);
});

it('has nothing to show of a meter that sends by itself, also where its profile still names a request', () => {
  const profile = Profile.parse({
    name: 'stream',
    poll: { send: 'READ?\n', everyMs: 200 },
    line: { format: 'number' },
    channels,
  });
  expect(writtenRequests(profile)).toEqual([]);
});
