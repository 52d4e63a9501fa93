import { describe, expect, it } from 'vitest';
import type { LightingView } from '../../shared/model/results/lighting-view.ts';
import { hatchPath, outlinePath } from '../../shared/report/charts/lighting/hatch.ts';
import { lightingChart } from '../../shared/report/charts/lighting/lighting-chart.ts';
import { countCorners } from '../../shared/report/charts/lighting/count-corners.ts';
import { lightingPlaces, errorBarPath } from '../../shared/report/charts/lighting/lighting-places.ts';

const at = (pressure: number, delayS: number, lit = true) => ({ pressure, delayS, lit });
const numbers = (...values: number[]) => Float64Array.from(values);
const view = (more: Partial<LightingView> = {}): LightingView => ({
  pressureUnit: 'inH2O',
  trialSeconds: 10,
  tried: [at(2, 0), at(2, 0), at(3, 0), at(2, 5), at(3.6, 0, false)],
  regions: {
    proved: [
      [
        [2, 0],
        [3, 0],
        [2, 5],
      ],
    ],
    tried: [
      [2, 0],
      [3.6, 0],
      [2, 5],
    ],
  },
  band: {
    pressure: numbers(2, NaN, 2, 3.6),
    probability: numbers(90, NaN, 92, 31),
    low: numbers(45, NaN, 47, 0),
    high: numbers(100, NaN, 100, 78),
  },
  signal: { pressure: numbers(0.5, 2, 4.5), percent: numbers(3, 100, 8) },
  window: [1.2, 2.9],
  setPoint: 2.05,
  asLeft: 2,
  words: ['It lit.'],
  ...more,
});
const texts = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/gu)].map(([, text]) => text!);

describe('the chart of pressure and spark delay', () => {
  it('names the settings, every result by its shape, both regions and the number of trials at one place', () => {
    const words = texts(lightingChart(view()).svg);
    for (const word of ['set point 2.05', 'as left 2.00', 'lit', 'not lit', 'shown to light', 'tried, in doubt', '×2'])
      expect(words).toContain(word);
    expect(texts(lightingChart(view({ tried: [at(2, 0)] })).svg)).not.toContain('not lit');
  });

  it('draws without settings, window and regions too', () => {
    const { setPoint: _, asLeft: __, window: ___, regions: ____, ...bare } = view();
    const words = texts(lightingChart(bare).svg);
    expect(words.join(' ')).not.toMatch(/set point|as left|shown to light|window/u);
    expect(words).toContain('Spark delay, s');
  });

  it('has no number that is none, and keeps a delay beyond the trial for ignition inside its frame', () => {
    const { svg, height } = lightingChart(view({ tried: [at(2, 0), at(2, 25)] }));
    expect(svg).not.toMatch(/NaN|Infinity/u);
    for (const [, y] of svg.matchAll(/ y="(-?[\d.]+)"/gu)) {
      expect(Number(y)).toBeGreaterThanOrEqual(0);
      expect(Number(y)).toBeLessThanOrEqual(height);
    }
  });
});

describe('the places of the trials', () => {
  const identity = (value: number) => value;
  const placed = (...tried: LightingView['tried']) => lightingPlaces(view({ tried }), identity, identity).places;

  it('are one mark for trials of one result at one place, and lose none', () => {
    const places = placed(at(100, 50), at(101, 52), at(100, 50, false), at(180, 50));
    expect(places.map(({ count, lit }) => [count, lit])).toEqual([
      [2, true],
      [1, false],
      [1, true],
    ]);
  });

  it('stay at their own pressure beside one of the other result at another delay', () => {
    // Thirteen pixels apart, as a second on a small screen is.
    const places = placed({ pressure: 100, delayS: 50, lit: true }, { pressure: 100, delayS: 63, lit: false });
    expect(places.map(({ x, y }) => [x, y])).toEqual([
      [100, 50],
      [100, 63],
    ]);
  });
  it('set a failure and a success at the same place side by side: both are seen, and neither has another delay', () => {
    const [lit, failed] = placed(at(100, 50), at(100, 50, false));
    expect(Math.hypot(lit!.x - failed!.x, lit!.y - failed!.y)).toBeGreaterThan(9);
    expect([lit!.y, failed!.y]).toEqual([50, 50]);
    expect((lit!.x + failed!.x) / 2).toBe(100);
    // One at another delay, or another pressure, stays where it is.
    expect(placed(at(100, 50), at(100, 80, false)).map(({ x, y }) => [x, y])).toEqual([
      [100, 50],
      [100, 80],
    ]);
  });
});

describe('the counts of marks that stand close together', () => {
  const counted = (x: number, y: number, count: number, beside?: 'left' | 'right') => ({
    x,
    y,
    count,
    ...(beside && { beside }),
  });

  it('stand at the upper right of a mark that is alone, and on the far side of one beside another', () => {
    expect(countCorners([counted(100, 50, 3)])).toEqual([{ side: 'right', row: 'above' }]);
    expect(
      countCorners([counted(93, 50, 3, 'left'), counted(107, 50, 2, 'right')]).map((corner) => corner?.side),
    ).toEqual(['left', 'right']);
    expect(countCorners([counted(100, 50, 1)])).toEqual([undefined]);
  });

  it('are not printed over each other, nor over a neighboring mark', () => {
    // Nine pixels apart: the third digit of the gauge on a small screen.
    const corners = countCorners([counted(100, 50, 3), counted(109, 50, 3)]);
    expect(new Set(corners.map((corner) => `${corner?.side} ${corner?.row}`)).size).toBe(2);
    expect(countCorners([counted(100, 50, 3), counted(118, 42, 1)])[0]).not.toEqual({ side: 'right', row: 'above' });
  });
});

describe('the band of one pressure', () => {
  it('is a bar from end to end of its interval, crossed at the estimate; a band that has a width is none', () => {
    const band = (...pressure: number[]) => ({
      pressure: numbers(...pressure),
      probability: numbers(...pressure.map(() => 80)),
      low: numbers(...pressure.map(() => 40)),
      high: numbers(...pressure.map(() => 100)),
    });
    const identity = (value: number) => value;
    expect(errorBarPath(band(50), identity, identity)).toBe('M50 40V100M44 80h12');
    expect(errorBarPath(band(30, 40, NaN, 50), identity, identity)).toBe('M50 40V100M44 80h12');
    expect(errorBarPath(band(30, 40, NaN, 50, 60), identity, identity)).toBe('');
    // Nor is a band seen that is no wider than its own line.
    expect(errorBarPath(band(30, 40, NaN, 60, 61, 62), identity, identity)).toBe('M61 40V100M55 80h12');
    expect(errorBarPath(band(), identity, identity)).toBe('');
  });
});

describe('the hatch', () => {
  const square = [
    [0, 0],
    [21, 0],
    [21, 21],
    [0, 21],
  ] as const;

  it('crosses a polygon from edge to edge and stays inside', () => {
    const lines = [...hatchPath(square).matchAll(/M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)/gu)].map((match) =>
      match.slice(1).map(Number),
    );
    // Diagonals at 7, 14, 21, 28 and 35 pixels of x + y.
    expect(lines.map(([x, y]) => x! + y!)).toEqual([7, 14, 21, 28, 35]);
    for (const [x, y, toX, toY] of lines) {
      expect(toX! + toY!).toBeCloseTo(x! + y!, 9);
      for (const value of [x, y, toX, toY]) expect(value! >= 0 && value! <= 21).toBe(true);
      // Both ends lie on an edge.
      expect([x, y].some((value) => value === 0 || value === 21)).toBe(true);
    }
  });

  it('is nothing across a line or a point, whose outline remains', () => {
    expect(hatchPath([[3, 4]])).toBe('');
    expect(outlinePath([[3, 4]])).toBe('M3 4Z');
    expect(outlinePath([])).toBe('');
  });
});
