import { describe, expect, it } from 'vitest';
import { localOffsetMin } from '../../../electron/host/clock.ts';
import { previewMapping } from '../../../shared/files/logger/preview/preview-mapping.ts';
import { readLoggerFile } from '../../../shared/files/logger/read-logger-file.ts';
import { utf8 } from './manners.ts';

/** A computer two hours east of UTC, all the year. */
const twoHoursEast = () => 120;
const table = (heading: string, times: string[]) =>
  utf8([heading, ...times.map((time, i) => `${time};${2 + i / 10};4.6`), ''].join('\n'));
const read = (heading: string, times: string[], offsetAt: (localS: number) => number = twoHoursEast) => {
  const found = readLoggerFile({ file: 'f.txt', bytes: table(heading, times), offsetAt });
  if (!found.ok) throw new Error(found.fault.message);
  return found.value;
};
const plain = 'Time;Pressure [mbar];Flame [V]';
const seconds = (from: string) => ['00', '01', '02', '03'].map((s) => `${from}:${s}`);

describe("the start of a visit in another logger's file", () => {
  it.each([
    ['date and time, day first', plain, seconds('27.11.2026 09:30'), '2026-11-27T09:30:00.000+02:00'],
    [
      'the zone of the file',
      plain,
      seconds('2026-11-27T09:30').map((t) => `${t}-05:00`),
      '2026-11-27T09:30:00.000-05:00',
    ],
    ['UTC by the file', plain, seconds('2026-11-27T09:30').map((t) => `${t}Z`), '2026-11-27T09:30:00.000+00:00'],
    [
      'UTC by the heading',
      'Time (UTC);Pressure [mbar];Flame [V]',
      seconds('27.11.2026 09:30'),
      '2026-11-27T09:30:00.000+00:00',
    ],
    [
      'a zone in the heading',
      'Time [GMT-3:30];Pressure [mbar];Flame [V]',
      seconds('27.11.2026 09:30'),
      '2026-11-27T09:30:00.000-03:30',
    ],
    [
      'no zone in a name',
      'Time GMTK;Pressure [mbar];Flame [V]',
      seconds('27.11.2026 09:30'),
      '2026-11-27T09:30:00.000+02:00',
    ],
    ['date and time in two columns', `Date;${plain}`, seconds('27.11.2026;21:30'), '2026-11-27T21:30:00.000+02:00'],
    ['over New Year in the zone of the computer', plain, seconds('01.01.2027 00:30'), '2027-01-01T00:30:00.000+02:00'],
  ])('is its first time: %s', (_, heading, times, expected) => {
    const format = times[0]!.startsWith('01.01') ? { time: { format: 'dd.MM.yyyy HH:mm:ss' } } : {};
    const found = readLoggerFile({
      file: 'f.txt',
      bytes: table(heading, times),
      mapping: format,
      offsetAt: twoHoursEast,
    });
    if (!found.ok) throw new Error(found.fault.message);
    expect(found.value.capture.startedAt).toBe(expected);
    expect(found.value.capture.readings.map(({ elapsedS }) => elapsedS)).toEqual([0, 0, 1, 1, 2, 2, 3, 3]);
  });

  it.each([
    ['a clock', plain, seconds('09:30')],
    ['seconds', 'Time [s];Pressure [mbar];Flame [V]', ['0.5', '1.5', '2.5']],
  ])('stays unknown where the file has no date: %s', (_, heading, times) => {
    expect(read(heading, times).capture).not.toHaveProperty('startedAt');
  });

  it('is not guessed where day and month may be either', () => {
    const found = readLoggerFile({
      file: 'f.txt',
      bytes: table(plain, seconds('03/04/2026 09:30')),
      offsetAt: twoHoursEast,
    });
    expect(found).toMatchObject({ ok: false, fault: { code: 'map-ambiguous' } });
  });

  it('is shown in the preview as it is imported, with whose time zone it is', () => {
    const times = seconds('27.11.2026 09:30');
    const shown = previewMapping('f.txt', table(plain, times), undefined, () => undefined, twoHoursEast);
    expect(shown).toMatchObject({
      ok: true,
      value: { start: { at: '2026-11-27T09:30:00.000+02:00', zone: 'computer' } },
    });
    expect(read(plain, times).logger!.taken).toContain(
      '2026-11-27 09:30:00 (UTC+02:00), in the time zone of this computer',
    );
  });

  it('is followed by times that go on where the clock was set back by an hour', () => {
    const times = ['25.10.2026 02:59:58', '25.10.2026 02:59:59', '25.10.2026 02:00:00', '25.10.2026 02:00:01'];
    const { capture, notices } = read(plain, times);
    expect(capture.readings.map(({ elapsedS }) => elapsedS)).toEqual([0, 0, 1, 1, 2, 2, 3, 3]);
    expect(notices.join(' ')).toContain('go back by an hour');
    // A clock that goes back by something else was set by hand.
    const set = read(plain, ['25.10.2026 02:30:00', '25.10.2026 02:30:01', '25.10.2026 02:10:00']);
    expect(set.notices.join(' ')).toContain('go back at 1 rows');
  });

  it('is followed by times that were set back by hand where the file says that they are UTC', () => {
    const times = ['2026-10-25 00:59:58', '2026-10-25 00:59:59', '2026-10-25 00:00:00', '2026-10-25 00:00:01'];
    const { capture, notices } = read('Time (UTC);Pressure [mbar];Flame [V]', times);
    expect(capture.readings.map(({ elapsedS }) => elapsedS)).not.toContain(3);
    expect(notices.join(' ')).toContain('go back at');
  });

  it('is followed by a gap, which is said, where the clock leaps forward by an hour', () => {
    const times = ['29.03.2026 01:59:58', '29.03.2026 01:59:59', '29.03.2026 03:00:00', '29.03.2026 03:00:01'];
    const { capture, notices } = read(plain, times);
    expect(capture.readings.map(({ elapsedS }) => elapsedS)).toEqual([0, 0, 1, 1, 3602, 3602, 3603, 3603]);
    expect(notices.join(' ')).toContain('leap forward by an hour');
    // Nothing was recorded for 70 minutes and more: no clock is set by that.
    expect(read(plain, [...times.slice(0, 2), '29.03.2026 03:15:00']).notices.join(' ')).not.toContain('leap forward');
  });

  it('is said to be uncertain by an hour where the clocks of the computer were changed then', () => {
    // From summer time, two hours east, to winter time at 3 on 25 October 2026.
    const changes = (localS: number) => (localS < Date.UTC(2026, 9, 25, 3) / 1000 ? 120 : 60);
    const noticed = (time: string) =>
      read(plain, seconds(time), changes).notices.some((notice) => notice.includes('off by an hour'));
    expect(noticed('25.10.2026 02:30')).toBe(true);
    expect(noticed('25.10.2026 14:30')).toBe(false);
  });

  it('is what the clocks of this computer showed, whatever its time zone', () => {
    const localS = Date.UTC(2026, 5, 15, 12, 34, 56) / 1000;
    const moment = new Date(localS * 1000 - localOffsetMin(localS) * 60_000);
    expect([moment.getFullYear(), moment.getMonth(), moment.getDate(), moment.getHours(), moment.getMinutes()]).toEqual(
      [2026, 5, 15, 12, 34],
    );
  });
});

describe('times without seconds', () => {
  const rows = (perTime: number, at: (k: number) => string) =>
    table(
      plain,
      Array.from({ length: 4 * perTime }, (_, i) => at(Math.floor(i / perTime))),
    );
  const opened = (bytes: Uint8Array) => readLoggerFile({ file: 'f.txt', bytes, offsetAt: twoHoursEast });
  const minutes = (k: number) => `27.11.2026 09:3${k}`;

  it('that many rows share tell nobody when each was read', () => {
    const outcome = opened(rows(20, minutes));
    expect(outcome.ok ? 'ok' : outcome.fault).toMatchObject({ code: 'map-unclear' });
    expect(outcome.ok ? '' : outcome.fault.message).toContain('have no seconds');
  });
  it('are missing as well where all rows have one time, or where each minute is written with seconds of 00', () => {
    const withinOne = table(
      plain,
      Array.from({ length: 20 }, () => '27.11.2026 09:30'),
    );
    for (const bytes of [withinOne, rows(20, (k) => `${minutes(k)}:00`)]) expect(opened(bytes).ok).toBe(false);
    // Twenty rows within one second are no sign of it.
    expect(
      opened(
        table(
          plain,
          Array.from({ length: 20 }, () => '27.11.2026 09:30:07'),
        ),
      ).ok,
    ).toBe(true);
  });
  it('are as good as others where each row has its own, and so are seconds that ten rows share', () => {
    expect(opened(rows(1, minutes)).ok).toBe(true);
    expect(opened(rows(2, minutes)).ok).toBe(true);
    expect(opened(rows(10, (k) => `27.11.2026 09:30:0${k}`)).ok).toBe(true);
  });
});

describe("the id of a capture from another logger's file", () => {
  const at = (day: string) => read(plain, seconds(`${day} 09:30`));

  it('is the same in every time zone, by whatever mapping the same readings came, and however the text writes them', () => {
    const { id } = at('27.11.2026').capture;
    expect(read(plain, seconds('27.11.2026 09:30'), () => -300).capture.id).toBe(id);
    expect(read('Zeit;Druck [mbar];Flamme [V]', seconds('2026-11-27 09:30')).capture.id).toBe(id);
  });

  it('is another on another day, or with another reading or flag', () => {
    const ids = [
      at('27.11.2026'),
      at('28.11.2026'),
      read('Time;Pressure [Pa];Flame [V]', seconds('27.11.2026 09:30')),
      read(plain, ['27.11.2026 09:30:00', '27.11.2026 09:30:01', '27.11.2026 09:30:02', '27.11.2026 09:30:04']),
    ].map(({ capture }) => capture.id);
    expect(new Set(ids).size).toBe(ids.length);
  });
});
