import { describe, expect, it } from 'vitest';
import { markOutline, markShapes } from '../../shared/report/charts/chart-marks.ts';
import { seriesStyle, seriesStyles, type SeriesName } from '../../shared/report/charts/chart-style.ts';
import { contrast, grounds, linearRgb } from './contrast.ts';

/** CIE 1976 L*a*b* of an sRGB color for the white point D65 (IEC 61966-2-1, CIE 15). */
function lab(hex: string): [number, number, number] {
  const [r, g, b] = linearRgb(hex) as [number, number, number];
  const f = (t: number) => (t > 216 / 24_389 ? Math.cbrt(t) : ((24_389 / 27) * t + 16) / 116);
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}
const difference = (one: string, other: string) => Math.hypot(...lab(one).map((part, i) => part - lab(other)[i]!));

const names = Object.keys(seriesStyles) as SeriesName[];
/** The series that meet in the chart of a sweep. */
const together = [
  'turning-in',
  'turning-out',
  'curve',
  'low-end',
  'high-end',
  'set-point',
  'as-left',
  'lit',
  'not-lit',
  'unlit',
  'maker-range',
] as const satisfies SeriesName[];
const pairs = together.flatMap((one, i) => together.slice(i + 1).map((other) => [one, other] as const));

describe('the formulas of these tests', () => {
  it('give the published contrasts: black on white 21 to 1, #777777 on white just below 4.5 to 1 (WebAIM: 4.48)', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });
  it('give the published L*a*b* of the sRGB red, 53.24 80.09 67.20', () => {
    for (const [i, value] of [53.24, 80.09, 67.2].entries())
      expect(Math.abs(lab('#ff0000')[i]! - value)).toBeLessThan(0.05);
  });
});

describe('the colors of the charts', () => {
  it.each(grounds)('reach 3 to 1 in the $theme theme on $on', ({ theme, color }) => {
    const weak = names.filter((name) => {
      const style = seriesStyle(name);
      // A shaded area has no outline of its own to be seen by; lines or words name its ends.
      return style.area === undefined && contrast(style.color[theme], color) < 3;
    });
    expect(weak).toEqual([]);
  });

  // 2.3 is just noticeable between large areas side by side (Mahy et al. 1994); ten times that, as marks are small and apart.
  it.each(['light', 'dark'] as const)(
    'differ by more than ten just noticeable differences in the %s theme',
    (theme) => {
      const alike = pairs.filter(([one, other]) => {
        return difference(seriesStyles[one].color[theme], seriesStyles[other].color[theme]) < 23;
      });
      expect(alike).toEqual([]);
    },
  );
});

describe('the marks of the charts', () => {
  it('tell every two series of a sweep apart without color: by the mark, or by line against mark', () => {
    const looks = together.map((name) => {
      const { mark, filled, dash } = seriesStyle(name);
      return mark ? `${mark} ${filled}` : `line ${dash?.join(' ')}`;
    });
    expect(new Set(looks).size).toBe(together.length);
    const shapes = together.flatMap((name) => seriesStyle(name).mark ?? []);
    expect(new Set(shapes).size).toBe(shapes.length);
  });

  it('tell apart by their dash the lines of one kind that can lie beside each other', () => {
    for (const group of [
      ['turning-in', 'turning-out'],
      ['set-point', 'as-left', 'guarded-end'],
      ['required-signal', 'maker-range'],
      ['curve', 'earlier'],
    ] as const) {
      const dashes = group.map((name) => seriesStyle(name).dash?.join(' '));
      expect(dashes).not.toContain(undefined);
      expect(new Set(dashes).size).toBe(group.length);
    }
  });

  it.each(markShapes)('%s stays within its size and is drawn by relative commands only', (shape) => {
    const outline = markOutline(shape, 4);
    expect(outline).toMatch(/^[mlhvaz\d. -]+$/u);
    // Follows the pen; arcs are half circles, whose ends are on the horizontal.
    let [x, y] = [0, 0];
    for (const [, command, rest] of outline.matchAll(/([mlhva])([^mlhvaz]*)/gu)) {
      const numbers = [...rest!.matchAll(/-?[\d.]+/gu)].map(Number);
      if (command === 'h') x += numbers[0]!;
      else if (command === 'v') y += numbers[0]!;
      else {
        x += numbers.at(-2)!;
        y += numbers.at(-1)!;
      }
      expect(Math.abs(y)).toBeLessThanOrEqual(4.005);
      expect(Math.abs(x)).toBeLessThanOrEqual(shape === 'range' ? 8.01 : 4.005);
    }
  });

  it('point the way the pressure goes: right when turning in, left when turning out', () => {
    // The move is to the upper corner at the back; the line after it leads to the tip.
    expect(markOutline(seriesStyles['turning-in'].mark, 3)).toBe('m-3 -3l6 3l-6 3z');
    expect(markOutline(seriesStyles['turning-out'].mark, 3)).toBe('m3 -3l-6 3l6 3z');
  });
});
