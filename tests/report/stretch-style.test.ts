import { describe, expect, it } from 'vitest';
import { stretchKinds } from '../../shared/model/stretches.ts';
import { stretchStyles } from '../../shared/report/charts/chart-style.ts';
import { stretchPath, stretchPatterns } from '../../shared/report/charts/stretch-path.ts';
import { contrast, grounds } from './contrast.ts';

const styles = stretchKinds.map((kind) => ({ kind, ...stretchStyles[kind] }));

describe('the stretches of the time line', () => {
  it('differ by pattern and by letter, so that no color is needed to tell them apart', () => {
    for (const key of ['pattern', 'letter', 'name'] as const)
      expect(new Set(styles.map((style) => style[key])).size).toBe(stretchKinds.length);
  });

  // A letter stands on the ground, or on the color of a filled stretch in the color of the ground: 4.5 to 1 (WCAG 2.1, 1.4.3).
  it.each(grounds)('reach 4.5 to 1 in the $theme theme on $on', ({ theme, color }) => {
    expect(styles.filter((style) => contrast(style.color[theme], color) < 4.5)).toEqual([]);
  });
});

describe('the pattern of a stretch', () => {
  const box = { x: 13, y: 4, width: 37, height: 14 };
  /** Every point that a path of absolute moves and lines goes through. */
  const points = (path: string): [number, number][] => {
    let [x, y, startX, startY] = [0, 0, 0, 0];
    return [...path.matchAll(/([MLhvz])([^MLhvz]*)/gu)].map(([, command, rest]) => {
      const [a, b] = rest!.trim().split(/ /u).map(Number) as [number, number];
      if (command === 'M') [x, y, startX, startY] = [a, b, a, b];
      else if (command === 'L') [x, y] = [a, b];
      else if (command === 'h') x += a;
      else if (command === 'v') y += a;
      else [x, y] = [startX, startY];
      return [x, y];
    });
  };

  it.each(stretchPatterns)('%s stays inside its box, however short', (pattern) => {
    for (const width of [0.5, 3, 37]) {
      const found = points(stretchPath(pattern, { ...box, width }));
      expect(found.length).toBeGreaterThan(3);
      for (const [x, y] of found) {
        expect(x).toBeGreaterThanOrEqual(13 - 0.01);
        expect(x).toBeLessThanOrEqual(13 + width + 0.01);
        expect(y).toBeGreaterThanOrEqual(4 - 0.01);
        expect(y).toBeLessThanOrEqual(18.01);
      }
    }
  });

  it('is drawn from edge to edge at 45 degrees where it is hatched', () => {
    const lines = [...stretchPath('hatched', box).matchAll(/M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)/gu)].map((match) =>
      match.slice(1).map(Number),
    );
    // 37 px and the height of 14, a line each 6 px: 8 or 9 of them.
    expect(lines.length).toBeGreaterThanOrEqual(8);
    for (const [x1, y1, x2, y2] of lines as [number, number, number, number][]) expect(x2 - x1).toBeCloseTo(y1 - y2, 1);
  });
});
