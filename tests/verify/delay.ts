import { initialEstimates } from '../../shared/analysis/sweep/series/initial-estimates.ts';
import { pressureGrid } from '../../shared/analysis/sweep/series/pressure-grid.ts';
import { type Check, reference } from './check.ts';

/** Seconds between samples: the search goes by tenths of a second up to five, so that a sample is one of its steps. */
const stepS = 0.1;

export const delay: Check[] = [
  {
    subject: 'Delay',
    name: 'Delay of a response behind its driver',
    of: 'initialEstimates',
    source: 'NumPy, R ccf: lag of the highest cross-correlation',
    origin: 'computed',
    file: 'xcorr-lag',
    run: () => {
      const { inputs, expected } = reference<{ driver: number[]; response: number[] }, { best_lag: number }>(
        'xcorr-lag',
      );
      const time = Float64Array.from(inputs.driver, (_, i) => i * stepS);
      const driver = { time, value: Float64Array.from(inputs.driver) };
      const response = { time, value: Float64Array.from(inputs.response) };
      const { lagS } = initialEstimates(pressureGrid(driver, stepS), response);
      return [
        {
          quantity: 'delay in samples',
          expected: expected.best_lag,
          found: Math.round(lagS / stepS),
          tolerance: 'exact',
        },
      ];
    },
  },
];
