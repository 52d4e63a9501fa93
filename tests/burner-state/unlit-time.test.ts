import { describe, expect, it } from 'vitest';
import { longestUnlitSeconds, unlitSeconds } from '../../shared/burner-state/unlit-time.ts';
import { alarmFault } from '../../shared/burner-state/permissions.ts';
import { at, follow, litAt11, type Live, openedAt10, readingsOf, towards } from './story.ts';

/** Burns from 11 s; goes out at 40 s over gas that stays on, and is back at 70 s. */
const signal = (t: number) =>
  t < 70 ? (t < 40 ? litAt11(t) : towards(5, 0.02, 0.6, t, 40)) : towards(0.02, 5, 0.6, t, 70);
const story = readingsOf({ seconds: 90, pressure: openedAt10, signal });

/** The flame signal meter repeats one reading, or says nothing, from 30 s to 60 s. */
const frozen = story.map((each) =>
  each.role === 'flame_signal' && each.elapsedS >= 30 && each.elapsedS < 60 ? { ...each, value: 4.99 } : each,
);
const silent = story.filter(({ role, elapsedS }) => role !== 'flame_signal' || elapsedS < 30 || elapsedS >= 60);

const leastOf = ({ raised, nowS }: Live) => unlitSeconds(raised!, nowS);
const longestOf = ({ raised, nowS }: Live) => longestUnlitSeconds(raised!, nowS);

describe.each([
  ['repeated one reading', frozen],
  ['was silent', silent],
])('a flame that went out while its meter %s', (_, readings) => {
  const told = follow(readings, 90);

  it('is lost since the meter is back at least, and since its last good reading at most', () => {
    const first = told.find(({ alarm }) => alarm === 'flame-lost')!;
    expect(first.nowS).toBeGreaterThan(60);
    expect(first.nowS).toBeLessThan(63);
    expect(leastOf(first)).toBeLessThan(3);
    // From 30 s, the last reading that can be trusted: the truth, 40 s, lies in between.
    expect(longestOf(first)).toBeGreaterThan(29);
    expect(longestOf(first)).toBeLessThan(34);
  });

  it('counts both on until the flame is back, and says both', () => {
    const back = at(told, 88);
    expect(back.raised?.unlitToS).toBeGreaterThan(69);
    expect(leastOf(back)).toBeGreaterThan(8);
    expect(leastOf(back)).toBeLessThan(13);
    expect(longestOf(back)).toBeGreaterThan(38);
    expect(longestOf(back)).toBeLessThan(43);
    const [least, longest] = [leastOf(back), longestOf(back)!].map(Math.floor);
    const said = alarmFault(back.raised!).message;
    expect(said.startsWith(`Flame is back; gas was unlit for at least ${least} s. Perhaps ${longest} s: `)).toBe(true);
    expect(said).toContain('Shut the gas now');
  });
});

it('a flame that is lost before the eyes of both meters is counted to the second', () => {
  const lost = at(follow(story, 90), 60);
  expect(lost.alarm).toBe('flame-lost');
  expect(longestOf(lost)).toBeUndefined();
  expect(lost.raised?.isLeast).toBeUndefined();
});

it('a meter that was blind and came back to a burning flame leaves no doubt about a later loss', () => {
  const early = readingsOf({ seconds: 90, pressure: openedAt10, signal }).filter(
    ({ role, elapsedS }) => role !== 'flame_signal' || elapsedS < 20 || elapsedS >= 30,
  );
  const lost = at(follow(early, 60), 50);
  expect(lost.alarm).toBe('flame-lost');
  expect(longestOf(lost)).toBeUndefined();
});

it('gas that was on and unlit before anyone looked was unlit for at least as long as it is seen', () => {
  const unlit = readingsOf({ seconds: 40, pressure: () => 3, signal: () => 0.02 });
  const raised = follow(unlit, 40, undefined, { signalUnit: 'V', trialSeconds: 10, fanOnly: 0.2 }).findLast(
    ({ alarm }) => alarm,
  )!;
  expect(raised.alarm).toBe('gas-unlit');
  expect(raised.raised?.isLeast).toBe(true);
  expect(longestOf(raised)).toBeUndefined();
});

it('gas that came on while the manometer was silent may be on since it was last seen shut', () => {
  const dark = readingsOf({ seconds: 60, pressure: openedAt10, signal: () => 0.02 }).filter(
    ({ role, elapsedS }) => role === 'flame_signal' || elapsedS < 5 || elapsedS >= 20,
  );
  const told = follow(dark, 60);
  const first = told.find(({ alarm }) => alarm === 'gas-unlit')!;
  expect(longestOf(first)! - leastOf(first)).toBeGreaterThan(13);
  expect(longestOf(first)! - leastOf(first)).toBeLessThan(17);
});
