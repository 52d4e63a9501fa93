import { describe, expect, it } from 'vitest';
import { createTimeOverview } from '../../../renderer/plot/geometry/time-overview.ts';
import { columnOf } from '../state/column-of.ts';

/** An hour at 50 readings a second, with one peak, one dip and one flagged reading. */
const perSecond = 50;
const hour = columnOf(
  Array.from({ length: 3600 * perSecond }, (_, i) => {
    const value = i === 70_000 ? 9 : i === 90_001 ? 0.1 : i === 120_002 ? Number.NaN : 2.5 + 0.01 * Math.sin(i);
    return [i / perSecond, value] as const;
  }),
);
/** The same column as it was when it had fewer readings. */
const until = (length: number) => ({ ...hour, length });

describe('an hour against time', () => {
  const picked = createTimeOverview().pick(hour, 0, 3600);
  const places = Array.from(picked.places);

  it('is told by few readings', () => expect(places.length).toBeLessThan(6000));
  it('in their order, from the first to the last', () => {
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(new Set(places).size).toBe(places.length);
    expect([places[0], places.at(-1)]).toEqual([0, hour.length - 1]);
  });
  it('without losing an extreme or a break of the line', () => {
    for (const place of [70_000, 90_001, 120_002]) expect(places).toContain(place);
  });
  it('without a pause that the readings do not have', () => {
    const pauses = places.slice(1).map((place, i) => hour.elapsedS[place]! - hour.elapsedS[places[i]!]!);
    expect(Math.max(...pauses)).toBeLessThanOrEqual(picked.pauseS);
  });
  it('is the same when it grew in pieces', () => {
    const overview = createTimeOverview();
    for (let length = 1; length < hour.length; length += 7919) overview.pick(until(length), 0, 3600);
    expect(Array.from(overview.pick(hour, 0, 3600).places)).toEqual(places);
  });
  it('begins where the view begins', () => {
    const from = 100_000;
    const { places: later } = createTimeOverview().pick(hour, from, 1600);
    expect(later[0]).toBeGreaterThanOrEqual(from);
    // Within the first span of time that stands for its readings.
    expect(later[0]).toBeLessThan(from + 4 * perSecond);
  });
});

it('a minute is drawn as it is', () => {
  const from = hour.length - 60 * perSecond;
  const { places } = createTimeOverview().pick(hour, from, 60);
  expect(Array.from(places)).toEqual(Array.from({ length: 60 * perSecond }, (_, i) => from + i));
});

it('readings out of order are looked at again', () => {
  const overview = createTimeOverview();
  overview.pick(until(50_000), 0, 3600);
  const moved = { ...hour, value: hour.value.slice(), shifts: 1 };
  moved.value[30_000] = 12;
  expect(Array.from(overview.pick(moved, 0, 3600).places)).toContain(30_000);
});
