import type { Random } from '../numerics/random.ts';
import { lagStep } from './response.ts';

/** A simulated meter on a serial port. Levels are in the unit it shows. */
export interface MeterParameters {
  /** Lines a second by its own clock, which runs `clockPpm` fast, and the largest jitter of their times, s. */
  linesPerS: number;
  clockPpm: number;
  jitterS: number;
  /** First-order lag of its input filter. */
  lagS: number;
  /** Standard deviation of its noise. */
  noise: number;
  /** How it prints numbers: 3 decimals, with or without the unit, or 4 significant digits with an exponent. */
  format: 'plain' | 'volts' | 'exponent';
  /** Beyond this it prints overload. */
  overloadAt: number;
  /** Fraction of its lines that are "----" because it was changing range. */
  rangingFraction: number;
}

/** A number as this meter displays and sends it: "2.413", "4.612 V" or "+4.612E+00 V". */
export function meterText(format: MeterParameters['format'], overloadAt: number, value: number): string {
  if (value > overloadAt) return 'OL';
  if (value < -overloadAt) return '-OL';
  if (format === 'plain') return value.toFixed(3);
  if (format === 'volts') return `${value.toFixed(3)} V`;
  const [digits = '', exponent = '0'] = Math.abs(value).toExponential(3).split('e');
  const power = Number(exponent);
  return `${value < 0 ? '-' : '+'}${digits}E${power < 0 ? '-' : '+'}${String(Math.abs(power)).padStart(2, '0')} V`;
}

export interface MeterLine {
  atS: number;
  text: string;
}

export interface Meter {
  /** Follows its input to `timeS`; returns the line sent since the last step, if there was one. */
  step(stepS: number, timeS: number, input: number): MeterLine | undefined;
}

export function createMeter(
  parameters: MeterParameters,
  start: { timeS: number; input: number },
  random: Random,
): Meter {
  const periodS = 1 / (parameters.linesPerS * (1 + parameters.clockPpm * 1e-6));
  const firstS = start.timeS + periodS * random.uniform();
  let count = 0;
  let filtered = start.input;
  let pending: MeterLine | undefined;

  const nextText = (): string => {
    const noisy = filtered + parameters.noise * random.normal();
    return random.uniform() < parameters.rangingFraction
      ? '----'
      : meterText(parameters.format, parameters.overloadAt, noisy);
  };

  return {
    step(stepS, timeS, input) {
      filtered += (input - filtered) * lagStep(stepS, parameters.lagS);
      const sampleS = firstS + count * periodS;
      if (!pending && timeS >= sampleS) {
        count += 1;
        pending = { atS: timeS + parameters.jitterS * random.uniform(), text: nextText() };
      }
      if (!pending || pending.atS > timeS) return undefined;
      const line = pending;
      pending = undefined;
      return line;
    },
  };
}
