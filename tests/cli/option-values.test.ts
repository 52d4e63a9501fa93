import { describe, expect, it } from 'vitest';
import { durationMs, wholeNumber } from '../../electron/cli/option-values.ts';
import { parseInstrument } from '../../electron/cli/recording/instruments.ts';

describe('values of options', () => {
  it('can be durations', () => {
    expect(['60s', '5m', '500ms', '90', '1.5h', '0.5'].map(durationMs)).toEqual([
      60_000, 300_000, 500, 90_000, 5_400_000, 500,
    ]);
    for (const text of ['', '0', '-5s', '5 days', 's', '1e3', '999999999h'])
      expect(() => durationMs(text), text).toThrow();
  });

  it('can be whole numbers within limits', () => {
    const port = wholeNumber('--port', 0, 65_535);
    expect([port('0'), port('65535')]).toEqual([0, 65_535]);
    for (const text of ['', '-1', '65536', '80.5', '0x50', ' 80']) expect(() => port(text), text).toThrow();
  });

  it('can be port and profile, split at the first equals sign', () => {
    expect(parseInstrument('/dev/ttyUSB0=Gauge, mode=fast')).toEqual({
      port: '/dev/ttyUSB0',
      profile: 'Gauge, mode=fast',
    });
    for (const text of ['', '/dev/ttyUSB0', '=Gauge', '/dev/ttyUSB0= '])
      expect(() => parseInstrument(text), text).toThrow();
  });
});
