import { describe, expect, it } from 'vitest';
import { metersWithoutHost, withoutHost } from '../../../renderer/state/live/without-host.ts';
import { latestReading } from '../../../renderer/state/live/latest-readings.ts';
import { pressureWord } from '../../../renderer/ui/visit/live-words.ts';
import type { BurnerView, MeterState } from '../../../shared/contract/api.ts';

const meter = {
  port: 'gauge',
  profile: 'Manometer',
  status: 'live',
  lines: 100,
  linesPerSecond: 10,
  recentLines: ['2.283'],
  latest: [{ role: 'pilot_pressure', value: 2.283, unit: 'inH2O', ageMs: 80 }],
} as unknown as MeterState;

const burner = {
  gas: 'flowing',
  flame: 'burning',
  alarm: { kind: 'flame-lost', forS: 4, message: 'Flame lost, gas on. Shut the gas now.' },
} as unknown as BurnerView;

describe('while the connection to the host is lost', () => {
  it('no number of a meter is that of now, and its age goes on', () => {
    const [shown] = metersWithoutHost([meter], 12_000);
    expect(shown).toMatchObject({ status: 'silent', linesPerSecond: 0, recentLines: [] });
    const { pressure } = latestReading([shown!]);
    expect(pressure).toMatchObject({ stale: true, ageMs: 12_080 });
    expect(pressureWord(pressure, undefined, 2.283, undefined)).toEqual({
      tone: 'bad',
      word: 'No reading for 12 s',
      isBlank: true,
    });
  });

  it('nothing is said of the burner but the alarm, whose time goes on', () => {
    const shown = withoutHost(burner, 12_000);
    expect(shown).toMatchObject({ gas: 'unknown', flame: 'unknown', settingRefusal: { code: 'burner-unknown' } });
    expect(shown.alarm?.forS).toBe(16);
  });
});
