import { describe, expect, it } from 'vitest';
import { endLabels, freeLabel, rowHeight } from '../../../renderer/plot/geometry/end-labels.ts';

const plot = [60, 700] as const;

it('the names of the ends stand outside the window, and inside where the plot ends there', () => {
  const apart = endLabels({ low: { at: 260, text: 'low end 1.43' }, high: { at: 500, text: 'high end 4.14' } }, plot);
  expect(apart).toEqual({ low: { x: 254, anchor: 'end', row: 0 }, high: { x: 506, anchor: 'start', row: 0 } });
  const edges = endLabels({ low: { at: 62, text: 'low end 1.43' }, high: { at: 690, text: 'high end 4.14' } }, plot);
  expect(edges).toEqual({ low: { x: 68, anchor: 'start', row: 0 }, high: { x: 684, anchor: 'end', row: 0 } });
  expect(endLabels({ high: { at: 500, text: 'high end 4.14' } }, plot)).toEqual({
    high: { x: 506, anchor: 'start', row: 0 },
  });
});

it('they are never printed over each other, however near the ends and wherever they are', () => {
  // A letter of the plot's font is at least 6 pixels wide.
  const extent = ({ x, anchor }: { x: number; anchor: string }, text: string) =>
    anchor === 'start' ? [x, x + 6 * text.length] : [x - 6 * text.length, x];
  for (let low = 60; low <= 700; low += 20)
    for (let high = low; high <= 700; high += 20) {
      const texts = { low: 'low end not reached', high: 'high end 1.73' };
      const found = endLabels({ low: { at: low, text: texts.low }, high: { at: high, text: texts.high } }, plot);
      const [a, b] = [extent(found.low!, texts.low), extent(found.high!, texts.high)];
      if (a[0]! < b[1]! && b[0]! < a[1]!) expect([found.low!.row, found.high!.row], `${low}, ${high}`).toEqual([0, 1]);
    }
});

describe('a name beside the set point', () => {
  const low = { label: { x: 60, anchor: 'start' as const, row: 0 as const }, text: 'low end 1.35' };
  const high = { label: { x: 190, anchor: 'end' as const, row: 1 as const }, text: 'high end 3.70' };
  it('stands where it is wanted when nothing is there', () => {
    const wanted = { x: 120, anchor: 'start' as const, y: 100, text: 'required 4.14' };
    expect(freeLabel(wanted, [low, high], [40, 400])).toEqual({ x: 120, anchor: 'start', y: 100 });
  });
  it('goes down until it is clear of the names of both ends', () => {
    const wanted = { x: 120, anchor: 'start' as const, y: 22, text: 'required 4.14' };
    // The second row stands two rows below the top, and a name is one row high.
    expect(freeLabel(wanted, [low, high], [40, 400]).y).toBeGreaterThanOrEqual(3 * rowHeight);
  });
  it('is not cut by an edge of the plot', () => {
    for (const anchor of ['start', 'end'] as const) {
      const x = anchor === 'start' ? 180 : 50;
      const found = freeLabel({ x, anchor, y: 100, text: 'required 4.14' }, [], [40, 200]);
      expect(found.anchor).toBe('start');
      expect(found.x).toBeGreaterThanOrEqual(40);
      // Nine pixels a character at most.
      expect(found.x + 13 * 9).toBeLessThanOrEqual(200);
    }
  });
});
