import type { Random } from '../numerics/random.ts';
import { lagStep } from './response.ts';

/** An invented meter on a serial cable. Sizes are in the unit it shows. */
export interface MeterFacts {
  /** Lines a second by its own clock, which runs `clockPpm` fast, and how unevenly they leave it (at most, s). */
  perSecond: number;
  clockPpm: number;
  jitterS: number;
  /** First-order lag of its input filter. */
  lagS: number;
  /** Standard deviation of its own noise. */
  noise: number;
  /** Steps in which it shows numbers: 3 decimals or 4 significant digits. */
  style: 'plain' | 'volts' | 'exponent';
  /** Beyond this it says overload. */
  overAt: number;
  /** Share of its lines that say "----" because it was busy ranging. */
  busyShare: number;
}

/** A number as this meter's display and serial line show it: "2.413", "4.612 V" or "+4.612E+00 V". */
export function meterText(style: MeterFacts['style'], overAt: number, value: number): string {
  if (value > overAt) return 'OL';
  if (value < -overAt) return '-OL';
  if (style === 'plain') return value.toFixed(3);
  if (style === 'volts') return `${value.toFixed(3)} V`;
  const [digits = '', exponent = '0'] = Math.abs(value).toExponential(3).split('e');
  const power = Number(exponent);
  return `${value < 0 ? '-' : '+'}${digits}E${power < 0 ? '-' : '+'}${String(Math.abs(power)).padStart(2, '0')} V`;
}

export interface MeterLine {
  atS: number;
  text: string;
}

export interface Meter {
  /** Follows its input to `timeS`; gives the line that left the meter since, if one did. */
  step(stepS: number, timeS: number, input: number): MeterLine | undefined;
}

export function createMeter(facts: MeterFacts, start: { timeS: number; input: number }, random: Random): Meter {
  const periodS = 1 / (facts.perSecond * (1 + facts.clockPpm * 1e-6));
  const firstS = start.timeS + periodS * random.uniform();
  let count = 0;
  let filtered = start.input;
  let waiting: MeterLine | undefined;

  const say = (): string => {
    const noisy = filtered + facts.noise * random.normal();
    return random.uniform() < facts.busyShare ? '----' : meterText(facts.style, facts.overAt, noisy);
  };

  return {
    step(stepS, timeS, input) {
      filtered += (input - filtered) * lagStep(stepS, facts.lagS);
      const sampleS = firstS + count * periodS;
      if (!waiting && timeS >= sampleS) {
        count += 1;
        waiting = { atS: timeS + facts.jitterS * random.uniform(), text: say() };
      }
      if (!waiting || waiting.atS > timeS) return undefined;
      const line = waiting;
      waiting = undefined;
      return line;
    },
  };
}
