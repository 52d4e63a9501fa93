import { expect, it } from 'vitest';
import { readProfile } from '../../shared/instruments/profile-file.ts';

it('poll.send in a Modbus profile is not sent: that is reported, and the profile is used', () => {
  const text = JSON.stringify({
    name: 'Transmitter',
    mode: 'poll',
    poll: { everyMs: 200, send: 'READ?\n' },
    line: { format: 'modbus-rtu', unitId: 1, function: 3, address: 0, type: 'int16' },
    channels: [{ role: 'pilot_pressure', unit: 'Pa' }],
  });
  expect(readProfile({ file: 'transmitter.json', text })).toMatchObject({
    ok: true,
    value: { notices: ['transmitter.json: poll.send is not used: modbus-rtu makes its own requests.'] },
  });
});
