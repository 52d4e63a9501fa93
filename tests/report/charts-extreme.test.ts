import { expect, it } from 'vitest';
import { recordChart } from '../../shared/report/charts/record-chart.ts';
import { sweepChart } from '../../shared/report/charts/sweep-chart.ts';
import { analysisDetail, visit } from './fixture.ts';

const most = Number.MAX_VALUE;
const badNumbers = [Number.NaN, Infinity, -Infinity, most, -most, Number.MIN_VALUE, 1e304, -1e304, 0];

/** What no viewer can draw, with what stands around it. */
const unusableIn = (svg: string): string[] =>
  [...svg.matchAll(/NaN|Infinity|undefined|\d{17}|\de[+-]\d/gu)].map(({ index }) => svg.slice(index - 60, index + 30));

it.each(badNumbers)(
  'a chart of the readings has only numbers that can be drawn, with %s in its readings and times',
  (bad) => {
    for (const other of [0, ...badNumbers]) {
      const capture = visit();
      const readings = [
        ...capture.readings,
        ...(['pilot_pressure', 'flame_signal'] as const).flatMap((channel) =>
          [bad, other].map((value, i) => ({
            elapsedS: i === 0 ? 20 : bad,
            role: channel,
            value,
            unit: channel === 'pilot_pressure' ? ('inH2O' as const) : ('V' as const),
            raw: 'x',
          })),
        ),
      ];
      const marks = [
        ...capture.marks,
        { elapsedS: bad, kind: 'sweep-start' as const, text: '' },
        { elapsedS: other, kind: 'sweep-end' as const, text: '' },
      ];
      const stretches = [{ fromS: bad, toS: other, kind: 'lit' as const }];
      const trials = [{ pressure: bad, unit: 'inH2O' as const, sparkDelayS: 0, lit: true, elapsedS: other }];
      const { svg } = recordChart({ ...capture, readings, marks, trials }, 'inH2O', 'V', stretches);
      expect(unusableIn(svg), `with ${other}`).toEqual([]);
    }
  },
);

it.each(badNumbers)('a chart of a sweep has only numbers that can be drawn, with %s in its pairs and trials', (bad) => {
  for (const other of [0, ...badNumbers]) {
    const detail = analysisDetail();
    const { pairs } = detail;
    detail.pairs = {
      elapsedS: Float64Array.from([...pairs.elapsedS, 1000, 1001]),
      pressure: Float64Array.from([...pairs.pressure, bad, other]),
      signal: Float64Array.from([...pairs.signal, other, bad]),
      direction: Float64Array.from([...pairs.direction, 1, 0]),
    };
    const trial = { unit: 'inH2O' as const, sparkDelayS: 0, lit: true };
    const setup = {
      makerPressureRange: {
        low: Math.min(bad || 0, other || 0),
        high: Math.max(bad || 0, other || 0),
        unit: 'inH2O' as const,
      },
    };
    for (const trials of [
      visit().trials,
      [
        { ...trial, pressure: bad },
        { ...trial, pressure: other, lit: false },
      ],
    ])
      expect(unusableIn(sweepChart(detail, trials, setup).svg), `with ${other}`).toEqual([]);
  }
});
