import { describe, expect, it } from 'vitest';
import { alarmFault } from '../../shared/burner-state/permissions.ts';
import { at, follow, litAt11, openedAt10, readingsOf, type Story, towards } from './story.ts';

/** Burns from 11 s; the manometer fails at 25 s, the flame goes out at 40 s, and nobody sees whether the gas was shut. */
const unseen: Story = {
  seconds: 70,
  pressure: (t) => (t < 25 ? openedAt10(t) : undefined),
  signal: (t) => (t < 40 ? litAt11(t) : towards(5, 0.02, 0.6, t, 40)),
};
const alarmsOf = (story: Story, valveOpen?: (nowS: number) => boolean | undefined) =>
  follow(readingsOf(story), story.seconds, valveOpen);
const kinds = (told: ReturnType<typeof alarmsOf>) => [...new Set(told.map(({ alarm }) => alarm))];

describe('a flame that goes out while the manometer gives no reading', () => {
  it.each([
    ['is silent', () => undefined],
    ['says overload', () => Number.NaN],
  ])('is lost over gas that may flow: the manometer %s', (_, pressure) => {
    const told = alarmsOf({ ...unseen, pressure: (t) => (t < 25 ? openedAt10(t) : pressure()) });
    const first = told.find(({ alarm }) => alarm)!;
    expect(first.alarm).toBe('flame-lost');
    expect(first.nowS).toBeGreaterThan(40);
    expect(first.nowS).toBeLessThanOrEqual(43);
    expect(at(told, 69).alarm).toBe('flame-lost');
  });
  it('is lost too where the frozen manometer still shows the pressure of flowing gas', () => {
    const readings = readingsOf({ ...unseen, pressure: openedAt10 }).map((each) =>
      each.role === 'pilot_pressure' && each.elapsedS >= 20 ? { ...each, value: 2.99 } : each,
    );
    const told = follow(readings, 70);
    expect(told.find(({ alarm }) => alarm)).toMatchObject({ alarm: 'flame-lost' });
    expect(at(told, 43).alarm).toBe('flame-lost');
  });
  it('is no alarm any more once the manometer is back and shows shut gas', () => {
    const told = alarmsOf({ ...unseen, pressure: (t) => (t > 55 ? 0.2 : unseen.pressure(t)) });
    expect(at(told, 50).alarm).toBe('flame-lost');
    expect(at(told, 65).alarm).toBeUndefined();
  });
  it('says that gas may flow, not that it does', () => {
    const words = alarmFault({ kind: 'flame-lost', sinceS: 0, gasUnseen: true }).message;
    expect(words).toContain('gas may be flowing');
    expect(words).toContain('Shut the gas now');
  });
});

describe('what is no danger without a manometer', () => {
  it('a flame that goes out as the wired valve shuts', () => {
    expect(kinds(alarmsOf(unseen, (nowS) => nowS >= 10 && nowS < 39.9))).toEqual([undefined]);
  });
  it('a manometer that fails after gas was seen shut', () => {
    const story: Story = {
      seconds: 70,
      pressure: (t) => (t < 30 ? openedAt10(t) : t < 40 ? towards(3, 0.2, 0.2, t, 30) : undefined),
      signal: (t) => (t < 30.3 ? litAt11(t) : towards(5, 0.02, 0.6, t, 30.3)),
    };
    expect(kinds(alarmsOf(story))).toEqual([undefined]);
  });
  it('a pulse of a self-checking detector', () => {
    const signal = (t: number) => {
      const since = t > 20 ? (t - 20) % 8 : 8;
      return since < 0.4 ? towards(5, 0.02, 0.15, since, 0) : towards(0.4, litAt11(t), 0.15, since, 0.4);
    };
    expect(kinds(alarmsOf({ ...unseen, signal }))).toEqual([undefined]);
  });
  it('a bench without any manometer', () => {
    expect(kinds(alarmsOf({ ...unseen, pressure: () => undefined }))).toEqual([undefined]);
  });
});

it('unlit gas over which the manometer fails is an alarm once the trial of 10 s is over', () => {
  const told = alarmsOf({ ...unseen, pressure: (t) => (t < 14 ? openedAt10(t) : undefined), signal: () => 0.02 });
  const first = told.find(({ alarm }) => alarm)!;
  expect(first.alarm).toBe('gas-unlit');
  expect(first.nowS).toBeGreaterThan(20);
  expect(first.nowS).toBeLessThanOrEqual(30);
});
