import { expect, it } from 'vitest';
import { endLabels } from '../../renderer/plot/geometry/end-labels.ts';

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
