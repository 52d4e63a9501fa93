import { describe, expect, it } from 'vitest';
import type { Known } from '../../../shared/burner-state/chain/bins.ts';
import { trackCapture } from '../../../shared/burner-state/track.ts';
import { createTrialFollower } from '../../../shared/burner-state/trials/trial-follower.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { at, captureOf, follow, openedAt10, readingsOf, type Story, towards } from '../story.ts';

const known: Known = { signalUnit: 'V', trialSeconds: 10, fanOnly: 0.3, minimumSignal: 1.25 };
const setup: Setup = { fanOnlyPressure: { value: 0.3, unit: 'inH2O' }, minimumSignal: { value: 1.25, unit: 'V' } };

/** A damper or a fan on its way: straight from one pressure to the other. */
const ramp = (from: number, to: number, startS: number, endS: number, t: number): number =>
  t <= startS ? from : t >= endS ? to : from + ((to - from) * (t - startS)) / (endS - startS);

/** Air of a purge: from what it is at light-off to `high` within `riseS`, for 40 s, and back within 8 s by 80 s. */
const purgeAir =
  (high: number, riseS: number, from = 0.3) =>
  (t: number): number =>
    t < 60 ? ramp(from, high, 20, 20 + riseS, t) : ramp(high, 0.3, 72, 80, t);

/** A purge, then gas at 100 s, lit at 101 s. */
const purgeThenTrial = (air: (t: number) => number): Story => ({
  seconds: 130,
  pressure: (t) => (t < 100 ? air(t) : towards(air(100), 2.6, 0.15, t, 100)),
  signal: (t) => towards(0.02, 4.6, 0.4, t, 101),
});

const gasOn = (told: ReturnType<typeof follow>) => {
  const follower = createTrialFollower();
  return told
    .flatMap(({ now }) => follower.step(now, 10) ?? [])
    .flatMap((event) => (event.kind === 'gas-on' ? [event.atS] : []));
};

describe('a purge moves more air than light-off: the gauge at the pilot tap shows it, and it is no gas', () => {
  it.each([
    ['a damper that opens in 10 s', purgeAir(0.6, 10)],
    ['a damper that opens in 25 s', purgeAir(0.55, 25)],
    ['a fan that starts from rest', purgeAir(0.7, 4, 0)],
    ['much air', purgeAir(1, 15)],
  ])('%s', (_, air) => {
    const readings = readingsOf(purgeThenTrial(air));
    const told = follow(readings, 130, undefined, known);
    expect(told.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
    expect(told.filter(({ nowS, now }) => nowS > 12 && nowS < 99 && now.moment.gas !== 'shut')).toEqual([]);
    // It may be a leak: the screen says so while the pressure stands there, and not at light-off.
    expect(at(told, 50).now.moreAir).toBe(true);
    expect(at(told, 10).now.moreAir).toBeUndefined();
    expect(at(told, 95).now.moreAir).toBeUndefined();
    expect(gasOn(told).map(Math.round)).toEqual([100]);
    expect(at(told, 115).now.moment).toMatchObject({ gas: 'flowing', flame: 'burning' });

    const { spans } = trackCapture(captureOf(readings), setup);
    expect(spans.filter(({ to_s, gas }) => to_s < 99 && gas !== 'shut')).toEqual([]);
    expect(spans.at(-1)).toMatchObject({ gas: 'flowing', flame: 'burning' });
  });

  it('and little more of it, which is back before the gas', () => {
    // At the edge of what a shut valve may read: 0.36 of 0.3 inH2O.
    for (const high of [0.35, 0.36, 0.37, 0.4]) {
      const told = follow(readingsOf(purgeThenTrial(purgeAir(high, 10))), 130, undefined, known);
      expect(told.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
      expect(gasOn(told).map(Math.round)).toEqual([100]);
    }
  });

  it('after a flame, too', () => {
    const air = (t: number) => (t < 100 ? ramp(0.3, 0.65, 66, 76, t) : ramp(0.65, 0.3, 100, 108, t));
    const readings = readingsOf({
      seconds: 120,
      pressure: (t) => (t < 60 ? openedAt10(t) + 0.1 : towards(3.1, air(t), 0.2, t, 60)),
      signal: (t) => (t < 60.3 ? towards(0.02, 5, 0.6, t, 11) : towards(5, 0.02, 0.4, t, 60.3)),
    });
    const told = follow(readings, 120, undefined, known);
    expect(told.filter(({ alarm }) => alarm !== undefined)).toEqual([]);
    expect(told.filter(({ nowS, now }) => nowS > 64 && now.moment.gas !== 'shut')).toEqual([]);
  });
});

describe('gas that comes on low is no air', () => {
  // The last: a manometer that reads once in two seconds.
  it.each([
    [0.6, 5],
    [0.7, 5],
    [1, 5],
    [1.4, 5],
    [0.9, 0.5],
  ])('at %d inH2O, as a valve lets it, unlit, read %d times a second', (level, rate) => {
    const all = readingsOf({ seconds: 60, pressure: (t) => towards(0.3, level, 0.15, t, 20), signal: () => 0.02 });
    const sparse = (_: unknown, i: number) => Math.floor(i / 2) % (5 / rate) === 0;
    const told = follow(all.filter(sparse), 60, undefined, known);
    expect(told.find(({ alarm }) => alarm !== undefined)).toMatchObject({ alarm: 'gas-unlit' });
    expect(told.find(({ alarm }) => alarm !== undefined)!.nowS).toBeLessThan(20 + 10 + 1.5 + 1 / rate);
  });

  // To 0.65 inH2O within a second, to 1 within three, and behind a manometer that is damped by 1.5 s: faster than a damper opens.
  it.each([
    ['in a second', (t: number) => ramp(0.3, 0.65, 20, 21, t)],
    ['in three seconds', (t: number) => ramp(0.3, 1, 20, 23, t)],
    ['behind a damped manometer', (t: number) => towards(0.3, 0.8, 1.5, t, 20)],
  ])('%s', (_, pressure) => {
    const told = follow(readingsOf({ seconds: 60, pressure, signal: () => 0.02 }), 60, undefined, known);
    expect(told.find(({ alarm }) => alarm !== undefined)).toMatchObject({ alarm: 'gas-unlit' });
    expect(told.filter(({ nowS, now }) => nowS > 26 && now.moment.gas === 'shut')).toEqual([]);
  });

  it('slowly, as a valve that sticks lets it, higher than air does', () => {
    const told = follow(
      readingsOf({ seconds: 90, pressure: (t) => ramp(0.3, 3, 20, 32, t), signal: () => 0.02 }),
      90,
      undefined,
      known,
    );
    expect(told.find(({ alarm }) => alarm !== undefined)).toMatchObject({ alarm: 'gas-unlit' });
  });

  it('behind a valve that leaks once it was shut under a flame', () => {
    const told = follow(
      readingsOf({
        seconds: 120,
        pressure: (t) => (t < 60 ? openedAt10(t) + 0.1 : towards(3.1, 0.8, 0.3, t, 60)),
        signal: (t) => (t < 60.3 ? towards(0.02, 5, 0.6, t, 11) : towards(5, 0.02, 0.4, t, 60.3)),
      }),
      120,
      undefined,
      known,
    );
    expect(told.filter(({ alarm }) => alarm !== undefined).length).toBeGreaterThan(0);
    expect(told.at(-1)!.alarm).toBeDefined();
  });
});
