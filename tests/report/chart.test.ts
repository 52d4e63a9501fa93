import { describe, expect, it } from 'vitest';
import { sweepChart } from '../../shared/report/chart-svg.ts';
import { seriesStyles } from '../../shared/report/chart-style.ts';
import { recordChart } from '../../shared/report/record-chart.ts';
import { analysisDetail, result, visit } from './fixture.ts';

const texts = (svg: string): string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/gu)].map((match) => match[1] ?? '');

describe('the charts', () => {
  it('name set point, as-left, both ends and what is required', () => {
    const words = texts(sweepChart(analysisDetail(), visit().trials, visit().setup).svg);
    for (const word of ['set point 2.28', 'as left 2.43', 'low end 1.13', 'high end 3.41', 'required 4.15'])
      expect(words).toContain(word);
    expect(words).toContain('maker&#39;s range');
  });

  it('tell turning in, turning out, lit and not lit apart by words and shape', () => {
    const { svg } = sweepChart(analysisDetail(), visit().trials, {});
    expect(texts(svg)).toEqual(expect.arrayContaining(['turning in', 'turning out', 'lit', 'not lit']));
    const { svg: litOnly } = sweepChart(
      analysisDetail(),
      [{ pressure: 2, unit: 'inH2O', sparkDelayS: 0, lit: true }],
      {},
    );
    expect(texts(litOnly)).not.toContain('not lit');
  });

  it('count trials that would hide each other', () => {
    expect(texts(sweepChart(analysisDetail(), visit().trials, {}).svg)).toContain('×4');
  });

  it('hold no number that is not one, whatever is missing', () => {
    const bare = analysisDetail({ window: { status: 'none' }, setPoint: undefined, asLeft: undefined });
    const none = new Float64Array();
    bare.pairs = { elapsedS: none, pressure: none, signal: none, direction: none };
    for (const { svg } of [
      sweepChart(bare, [], {}),
      sweepChart(analysisDetail(), visit().trials, visit().setup),
      recordChart(visit({ readings: [] }), 'inH2O', 'V'),
    ])
      expect(svg).not.toMatch(/NaN|Infinity|undefined/u);
  });

  it('leave a gap where a meter gave no number, and keep the spike of one reading', () => {
    const readings = Array.from({ length: 20_000 }, (_, i) => ({
      role: 'pilot_pressure' as const,
      unit: 'inH2O' as const,
      elapsedS: i / 50,
      value: i === 7001 ? 9 : i > 10_000 && i < 12_000 ? Number.NaN : 1,
      raw: '',
    }));
    const { svg } = recordChart(visit({ readings, marks: [] }), 'inH2O', 'V');
    const color = seriesStyles.pressure.color.light;
    const line = new RegExp(`<path d="([^"]*)" fill="none" stroke="${color}"`, 'u').exec(svg)?.[1] ?? '';
    expect(line.match(/M/gu)).toHaveLength(2);
    const heights = [...line.matchAll(/[ML]\S+ (\S+?)(?=[ML]|$)/gu)].map((match) => Number(match[1]));
    expect(Math.max(...heights) - Math.min(...heights)).toBeGreaterThan(100); // the spike spans the panel of 130
    expect(svg.length).toBeLessThan(60_000);
  });

  it('shade the window between its guarded ends', () => {
    expect(sweepChart(analysisDetail(), [], {}).svg).toContain('fill-opacity="0.18"');
    const crossed = analysisDetail({
      window: {
        status: 'bounded',
        low: { value: 2, ci: [1, 3], guarded: 2.6, cause: 'signal' },
        high: { value: 2.5, ci: [2, 3], guarded: 2.1, cause: 'signal' },
      },
    });
    expect(crossed.result.window).not.toEqual(result.window);
    expect(sweepChart(crossed, [], {}).svg).not.toContain('fill-opacity="0.18"');
  });
});
