import { describe, expect, it } from 'vitest';
import { sweepChart } from '../../shared/report/charts/sweep-chart.ts';
import { seriesStyles } from '../../shared/report/charts/chart-style.ts';
import { frame } from '../../shared/report/charts/sweep-frame.ts';
import { sweepSection } from '../../shared/report/sections/finding-sections.ts';
import { recordChart } from '../../shared/report/charts/record-chart.ts';
import { analysisDetail, result, visit } from './fixture.ts';

const texts = (svg: string): string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/gu)].map((match) => match[1] ?? '');

/** A flame burns all the time. */
const lit = [{ fromS: -1e6, toS: 1e6, kind: 'lit' as const }];

describe('the charts', () => {
  it('label the set point, the as-left pressure, both ends and the required signal', () => {
    const words = texts(sweepChart(analysisDetail(), visit().trials, visit().setup).svg);
    for (const word of ['set point 2.28', 'as left 2.43', 'low end 1.13', 'high end 3.41', 'required 4.15'])
      expect(words).toContain(word);
    expect(words).toContain('maker&#39;s range');
  });

  it('distinguish turning in, turning out, lit and not lit by label and shape', () => {
    const { svg } = sweepChart(analysisDetail(), visit().trials, {});
    expect(texts(svg)).toEqual(expect.arrayContaining(['turning in', 'turning out', 'lit', 'not lit']));
    const { svg: litOnly } = sweepChart(
      analysisDetail(),
      [{ pressure: 2, unit: 'inH2O', sparkDelayS: 0, lit: true }],
      {},
    );
    expect(texts(litOnly)).not.toContain('not lit');
  });

  it('keep trials apart by their spark: with the gas, delayed, not known', () => {
    const trial = { pressure: 2, unit: 'inH2O', lit: true } as const;
    const rows = ['spark with gas', 'delayed spark', 'time of the spark not known'];
    const shown = (sparkDelayS?: number) => {
      const trials = [{ ...trial, ...(sparkDelayS !== undefined && { sparkDelayS }) }];
      return texts(sweepChart(analysisDetail(), trials, {}).svg).filter((text) => rows.includes(text));
    };
    expect([shown(0), shown(5), shown()]).toEqual(rows.map((row) => [row]));
  });

  it('have the scale of the signal by what was read, however wide the band is at a cliff', () => {
    const analysis = analysisDetail();
    const { curve } = analysis;
    const ticks = (low: number, high: number) => {
      const band = { low: curve.low.map(() => low), high: curve.high.map(() => high) };
      const { svg } = sweepChart({ ...analysis, curve: { ...curve, ...band } }, [], {});
      const [, path] = /<path d="([^"]*)"[^>]*fill-opacity="0.2"/u.exec(svg)!;
      const heights = [...path!.matchAll(/,? ?(-?[\d.]+)(?=[ML]|Z|$)/gu)].map(([, y]) => Number(y));
      expect(heights.length).toBeGreaterThan(0);
      for (const y of heights) expect(y >= frame.top && y <= frame.bottom).toBe(true);
      return texts(svg);
    };
    expect(ticks(-300, 400)).toEqual(ticks(4.5, 4.7));
  });

  it('leave out trials that were corrected or discarded', () => {
    const trial = { pressure: 2, unit: 'inH2O', sparkDelayS: 0, lit: false } as const;
    const capture = visit({ trials: [trial, { ...trial, lit: true, corrects: 1 }] });
    const { blocks } = sweepSection(capture, analysisDetail());
    const words = blocks.flatMap((block) => (block.kind === 'figure' ? texts(block.svg) : []));
    expect(words).toContain('lit');
    expect(words).not.toContain('not lit');
  });

  it('do not shade a discarded sweep', () => {
    const sweep = (kind: 'sweep-end' | 'sweep-void') =>
      visit({
        marks: [
          { elapsedS: 18, kind: 'sweep-start', text: '' },
          { elapsedS: 216, kind, text: 'turned too fast' },
        ],
      });
    expect(texts(recordChart(sweep('sweep-end'), 'inH2O', 'V', lit).svg)).toContain('sweep');
    expect(texts(recordChart(sweep('sweep-void'), 'inH2O', 'V', lit).svg)).not.toContain('sweep');
  });

  it('count trials that would hide each other', () => {
    expect(texts(sweepChart(analysisDetail(), visit().trials, {}).svg)).toContain('×4');
  });

  it('contain no NaN, whatever is missing', () => {
    const bare = analysisDetail({ window: { status: 'none' }, setPoint: undefined, asLeft: undefined });
    const none = new Float64Array();
    bare.pairs = { elapsedS: none, pressure: none, signal: none, direction: none };
    for (const { svg } of [
      sweepChart(bare, [], {}),
      sweepChart(analysisDetail(), visit().trials, visit().setup),
      recordChart(visit({ readings: [] }), 'inH2O', 'V', []),
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
    const { svg } = recordChart(visit({ readings, marks: [] }), 'inH2O', 'V', lit);
    const color = seriesStyles.pressure.color.light;
    const line = new RegExp(`<path d="([^"]*)" fill="none" stroke="${color}"`, 'u').exec(svg)?.[1] ?? '';
    expect(line.match(/M/gu)).toHaveLength(2);
    const heights = [...line.matchAll(/[ML][^,]+,([^MLZ]+)/gu)].map((match) => Number(match[1]));
    expect(Math.max(...heights) - Math.min(...heights)).toBeGreaterThan(100); // the spike spans the panel of 130
    expect(svg.length).toBeLessThan(60_000);
  });

  it('break the line of a meter over a long time without readings', () => {
    // Ten readings a second for 20 s, then none for 30 s, then ten a second again.
    const readings = Array.from({ length: 400 }, (_, i) => ({
      role: 'flame_signal' as const,
      unit: 'V' as const,
      elapsedS: i / 10 + (i < 200 ? 0 : 30),
      value: 4,
      raw: '',
    }));
    const lineOf = (over: typeof readings) =>
      // The line of the pressure comes first, and is empty here.
      [
        ...recordChart(visit({ readings: over, marks: [] }), 'inH2O', 'V', lit).svg.matchAll(
          /<path d="([^"]*)" fill="none"/gu,
        ),
      ].at(-1)?.[1];
    expect(lineOf(readings)?.match(/M/gu)).toHaveLength(2);
    expect(lineOf(readings.slice(0, 200))?.match(/M/gu)).toHaveLength(1);
  });

  it('keep the labels of the required signal and of the range clear of every vertical line', () => {
    const { svg } = sweepChart(analysisDetail(), [], visit().setup);
    const placeOf = (text: string) => Number(new RegExp(`<text x="([^"]*)"[^>]*>${text}<`, 'u').exec(svg)?.[1]);
    // 40: half the width of the longer label, 14 characters of 6 px. Grid lines may pass, the lines of the answer may not.
    const answers = [1.1342, 1.1837, 2.2783, 2.4253, 3.3729, 3.4061].map((p) => 62 + ((p - 0.365) * 644) / 4.77);
    for (const text of ['required 4.15', 'maker&#39;s range'])
      for (const x of answers) expect(Math.abs(placeOf(text) - x), text).toBeGreaterThan(40);
  });

  it('shade the window between its guarded ends', () => {
    // Pressures from 0.5 to 5 with 3 % at both sides, 0.365 to 5.135, over 644 px from 62 on: 1.1837 is at 172.53, 3.3729 at 468.1.
    expect(sweepChart(analysisDetail(), [], {}).svg).toMatch(
      /<rect x="172.5\d?" y="62" width="295.5\d" height="268" fill="#[0-9A-Fa-f]{6}" fill-opacity="0.18"/u,
    );
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
