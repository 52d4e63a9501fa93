import { pascalsPer } from '../../../../shared/model/units.ts';
import type { Draft } from '../draft/draft.ts';

/** Rates, digits, lags and units of the two meters. */
export const meterKinds: Record<string, (draft: Draft) => void> = {
  'slow meters': ({ instruments, oneOf, turning }) => {
    instruments.manometer.hz = oneOf([0.5, 1]);
    instruments.signal.hz = oneOf([0.5, 1]);
    turning.speed /= 1.5;
  },
  'slow signal meter, fast manometer': ({ instruments, oneOf }) => {
    instruments.manometer.hz = oneOf([20, 50]);
    instruments.signal.hz = oneOf([0.5, 1]);
  },
  'fast meters': ({ instruments, oneOf }) => {
    instruments.manometer.hz = oneOf([20, 50]);
    instruments.signal.hz = oneOf([20, 50]);
  },
  'coarse digits': ({ instruments, oneOf }) => {
    instruments.manometer.digit = oneOf([0.02, 0.05]);
    instruments.signal.digit = oneOf([0.01, 0.02]);
  },
  'slow manometer': ({ instruments, between }) => (instruments.manometer.lagS = between(0.3, 0.5)),
  'noisy meters': ({ instruments, between }) => {
    instruments.manometer.noise = between(0.01, 0.03);
    instruments.signal.noise = between(0.02, 0.05);
  },
  pascals: ({ instruments }) => {
    instruments.pressureUnit = 'Pa';
    instruments.manometer.digit = pascalsPer.Pa / pascalsPer.inH2O;
  },
  'millibar, microamps': ({ instruments, between }) => {
    instruments.pressureUnit = 'mbar';
    instruments.manometer.digit = (0.01 * pascalsPer.mbar) / pascalsPer.inH2O;
    instruments.signalUnit = 'uA';
    instruments.amplitude = between(1.5, 7);
    instruments.signal.digit = 0.01 / instruments.amplitude;
  },
  'per cent': ({ instruments, between }) => {
    instruments.signalUnit = 'percent';
    instruments.amplitude = between(60, 100);
    instruments.signal.digit = 1 / instruments.amplitude;
  },
  'everything wired': ({ instruments }) => Object.assign(instruments, { fan: true, ignition: true, valve: true }),
  'late, uneven arrival': ({ instruments, between }) => {
    for (const meter of [instruments.manometer, instruments.signal]) {
      meter.jitterS = between(0.03, 0.1);
      meter.clock = between(-0.03, 0.03);
    }
  },
};
