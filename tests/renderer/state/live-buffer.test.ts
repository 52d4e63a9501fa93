import { describe, expect, it } from 'vitest';
import { roles, type Role } from '../../../shared/model/reading.ts';
import { createLiveBuffer, firstAfter } from '../../../renderer/state/live/live-buffer.ts';

const batch = (upTo: number, readings: [Role, number, number, number?][]) => ({
  upTo,
  role: Uint8Array.from(readings, ([role]) => roles.indexOf(role)),
  flag: Uint8Array.from(readings, ([, , , flag]) => flag ?? 0),
  elapsedS: Float64Array.from(readings, ([, t]) => t),
  value: Float64Array.from(readings, ([, , value]) => value),
});

const seen = (buffer: ReturnType<typeof createLiveBuffer>, role: Role) => {
  const { elapsedS, value, length } = buffer.column(role);
  return Array.from({ length }, (_, i) => [elapsedS[i], value[i]]);
};

describe('the live buffer', () => {
  it('stores each role in its own column and gives the number to resume after', () => {
    const buffer = createLiveBuffer();
    buffer.append(
      batch(7, [
        ['pilot_pressure', 1, 2.5],
        ['flame_signal', 1.2, 4.6],
        ['pilot_pressure', 2, 2.6],
      ]),
    );
    expect(seen(buffer, 'pilot_pressure')).toEqual([
      [1, 2.5],
      [2, 2.6],
    ]);
    expect(seen(buffer, 'flame_signal')).toEqual([[1.2, 4.6]]);
    expect(buffer.upTo).toBe(7);
    expect(buffer.endS).toBe(2);
  });

  it('turns a flagged reading into a gap, whatever number came with it', () => {
    const buffer = createLiveBuffer();
    buffer.append(batch(1, [['pilot_pressure', 1, 9.9e37, 1]]));
    expect(seen(buffer, 'pilot_pressure')).toEqual([[1, Number.NaN]]);
  });

  it('inserts a late reading at its time', () => {
    const buffer = createLiveBuffer();
    buffer.append(
      batch(3, [
        ['flame_signal', 1, 10],
        ['flame_signal', 3, 30],
        ['flame_signal', 2, 20],
      ]),
    );
    expect(seen(buffer, 'flame_signal')).toEqual([
      [1, 10],
      [2, 20],
      [3, 30],
    ]);
  });

  it('grows beyond its first size without losing a reading', () => {
    const buffer = createLiveBuffer();
    for (let i = 0; i < 1000; i++) buffer.append(batch(i, [['pilot_pressure', i, i * 2]]));
    const column = buffer.column('pilot_pressure');
    expect(column.length).toBe(1000);
    expect(column.value[999]).toBe(1998);
    expect(firstAfter(column, 499.5)).toBe(500);
    expect(firstAfter(column, 5000)).toBe(1000);
  });
});
