import { describe, expect, it } from 'vitest';
import type { PhaseSpan } from '../../shared/model/results/analysis-result.ts';
import type { Stretch } from '../../shared/model/stretches.ts';
import { seriesStyles, stretchStyles } from '../../shared/report/charts/chart-style.ts';
import { recordChart } from '../../shared/report/charts/record-chart.ts';
import { recordSection } from '../../shared/report/sections/record-section.ts';
import { sweepSection } from '../../shared/report/sections/finding-sections.ts';
import { analysisDetail, result, visit } from './fixture.ts';

/** What can happen: shut, lit, the flame lost with the gas on, shut and unlit in a trial, lit again; and a meter in trouble. */
const stretches: Stretch[] = [
  { fromS: 0, toS: 20, kind: 'shut' },
  { fromS: 20, toS: 60, kind: 'lit' },
  { fromS: 60, toS: 70, kind: 'lost' },
  { fromS: 70, toS: 90, kind: 'shut' },
  { fromS: 90, toS: 93, kind: 'unlit' },
  { fromS: 93, toS: 120, kind: 'lit' },
  { fromS: 120, toS: 140, kind: 'unknown' },
];
const readings = Array.from({ length: 1400 }, (_, i) => ({
  role: i % 2 ? ('flame_signal' as const) : ('pilot_pressure' as const),
  unit: i % 2 ? ('V' as const) : ('inH2O' as const),
  elapsedS: i / 10,
  // The pressure rises by a hundredth of an inch each second.
  value: i % 2 ? 4 : 1 + i / 1000,
  raw: '',
}));
const marks = [
  { elapsedS: 25, kind: 'sweep-start' as const, text: '' },
  { elapsedS: 58, kind: 'sweep-void' as const, text: 'turned too fast' },
  { elapsedS: 95, kind: 'sweep-start' as const, text: '' },
  { elapsedS: 118, kind: 'sweep-end' as const, text: '' },
];
const trials = [
  { pressure: 2, unit: 'inH2O' as const, lit: false, elapsedS: 20 },
  { pressure: 2, unit: 'inH2O' as const, lit: true, elapsedS: 90 },
];
const capture = visit({ readings, marks, trials });
const { svg } = recordChart(capture, 'inH2O', 'V', stretches);
const texts = [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/gu)].map((match) => match[1]);
/** Pixels of a time: 62 to 706 over 0 to 139.9 s. */
const xOf = (seconds: number) => 62 + (644 * seconds) / 139.9;

describe('the chart of the record', () => {
  it.each(['pressure', 'signal'] as const)(
    'never joins readings of the %s across a stretch without a flame',
    (name) => {
      const color = seriesStyles[name].color.light;
      const [, d] = new RegExp(`<path d="([^"]*)" fill="none" stroke="${color}" stroke-width="1.1"`, 'u').exec(svg)!;
      const lines = d!
        .split('M')
        .slice(1)
        .map((one) => one.split('L').map((point) => Number(point.split(',')[0])));
      expect(lines).toHaveLength(2);
      for (const [line, from, to] of [
        [lines[0]!, 20, 60],
        [lines[1]!, 93, 120],
      ] as const) {
        expect(Math.min(...line)).toBeGreaterThanOrEqual(xOf(from) - 0.5);
        expect(Math.max(...line)).toBeLessThanOrEqual(xOf(to) + 0.5);
      }
    },
  );

  it('shows the other readings as dots, and says what lines and dots are', () => {
    const [, d] = new RegExp(`<path d="([^"]*)" fill="${seriesStyles.signal.color.light}" stroke="none"`, 'u').exec(
      svg,
    )!;
    const dots = [...d!.matchAll(/M([\d.]+) /gu)].map((match) => Number(match[1]));
    expect(dots.length).toBeGreaterThan(50);
    for (const x of dots) {
      const seconds = ((x - 62) * 139.9) / 644;
      expect((seconds > 20.2 && seconds < 59.8) || (seconds > 93.2 && seconds < 119.8)).toBe(false);
    }
    expect(texts).toEqual(expect.arrayContaining(['flame burns', 'no flame, or not known']));
  });

  it('has a time line of what the burner did, each kind with its letter in it and in the key', () => {
    for (const { letter, name } of Object.values(stretchStyles)) expect(texts).toContain(`${letter}: ${name}`);
    // 3 s of unlit gas are 14 pixels: enough for the letter.
    expect(texts.filter((text) => text === 'F')).toHaveLength(2);
    for (const letter of ['L', 'G', '?'])
      expect(texts.filter((text) => text === letter).length, letter).toBeGreaterThan(0);
  });

  it('names sweeps and trials on it by number, the discarded ones as such, lit and not lit by shape', () => {
    expect(texts).toEqual(
      expect.arrayContaining(['sweeps', '1 discarded', '2', 'trials', 'trial lit', 'trial not lit']),
    );
    const [first] = new RegExp(`M${xOf(20).toFixed(0)}[^"]*`, 'u').exec(svg) ?? [];
    expect(first).toBeDefined();
  });
});

it('the time axis holds every trial, also one after the last reading', () => {
  const later = visit({
    readings,
    marks,
    trials: [
      { ...trials[0]!, elapsedS: 400 },
      { ...trials[0]!, elapsedS: 400.1 },
    ],
  });
  const { svg: chart } = recordChart(later, 'inH2O', 'V', stretches);
  const numbers = [...chart.matchAll(/<text x="([\d.]+)"[^>]*>([^<]*)<\/text>/gu)];
  // Both marks at the right end; of their numbers only the first has room.
  const found = numbers.filter(([, x, text]) => text === '1' && Math.abs(Number(x) - 706) < 1);
  expect(found).toHaveLength(1);
});

it('everything is unknown where nobody can tell, and drawn so', () => {
  const none = recordChart(capture, 'inH2O', 'V', []).svg;
  expect(none).not.toContain(`fill="none" stroke="${seriesStyles.signal.color.light}" stroke-width="1.1" d="M`);
  expect(none).not.toMatch(/NaN|Infinity|undefined/u);
});

it('the report lists the sweeps with their pressures and whether they count, and how long each stretch was', () => {
  const phases = stretches.map(({ fromS, toS, kind }): PhaseSpan => ({
    from_s: fromS,
    to_s: toS,
    gas: kind === 'shut' ? 'shut' : kind === 'unknown' ? 'unknown' : 'flowing',
    flame: ({ shut: 'out', lit: 'burning', lost: 'lost', unlit: 'dark', unknown: 'unknown' } as const)[kind],
    regulator: 'at-rest',
    phase: 'unknown',
    probability: 1,
  }));
  const detail = analysisDetail();
  const { blocks } = recordSection(capture, { ...result, phases });
  const rows = sweepSection(capture, detail).blocks.flatMap((block) =>
    block.kind === 'table' && block.columns[0]!.heading === 'Sweep' ? block.rows : [],
  );
  expect(rows).toEqual([
    ['1', '0:25.0', '0:58.0', '1.25 to 1.58 inH2O', 'no, discarded: turned too fast'],
    ['2', '1:35.0', '1:58.0', '1.95 to 2.18 inH2O', 'yes'],
  ]);
  const [figure] = blocks;
  expect(figure).toMatchObject({
    alternative: expect.stringContaining(
      'gas shut 40 s, gas on, no flame 3 s, flame 1 min 7 s, flame lost, gas on 10 s, not known 20 s',
    ),
  });
});
