import type { Random } from '../numerics/random.ts';
import type { MeterCondition } from './bench-controls.ts';
import type { MeterLine, MeterParameters } from './meter.ts';
import { createMeter } from './meter.ts';
import type { Scenario } from './scenario.ts';

/** The meters of the practice bench: port name and the built-in profile that reads it. A sweep does without the last one. */
export const practicePorts = {
  pressure: {
    port: 'practice:manometer',
    label: 'Practice bench: manometer on the pilot gas',
    profile: 'Manometer, one number a line',
  },
  signal: {
    port: 'practice:flame-signal',
    label: 'Practice bench: flame signal meter',
    profile: 'Multimeter, volts, one number a line',
  },
  air: {
    port: 'practice:air-spark-valve',
    label: 'Practice bench: fan pressure, ignition and pilot valve',
    profile: 'Logger, fan pressure, ignition and pilot valve, comma',
  },
} as const;

export interface BenchLine {
  port: string;
  /** The line without its line end. */
  text: string;
  /** When it left the meter, on the clock of `advance`. */
  atMs: number;
}

/** What the meters are connected to: pressures in inH2O, the signal in V, and whether spark and valve are energized. */
export interface Measured {
  pilotPressure: number;
  signal: number;
  fanPressure: number;
  spark: boolean;
  pilotValve: boolean;
}

export interface BenchMeters {
  /** The lines that left the meters since the last step, in time order; `atS` counts like `timeS`. */
  step(
    stepS: number,
    timeS: number,
    measured: Measured,
    condition: { manometer: MeterCondition; multimeter: MeterCondition },
  ): (MeterLine & { port: string })[];
}

/** A small logger of fan pressure, spark and valve. */
const airLogger: MeterParameters = {
  linesPerS: 10,
  clockPpm: 90,
  jitterS: 0.01,
  lagS: 0.12,
  noise: 0.004,
  format: 'plain',
  overloadAt: 40,
  rangingFraction: 0,
};

/** The meters of a scenario and the logger, each with a random stream of its own: `stream(4)` to `stream(6)`. */
export function createBenchMeters(
  { manometer, multimeter }: Pick<Scenario, 'manometer' | 'multimeter'>,
  start: Pick<Measured, 'pilotPressure' | 'signal' | 'fanPressure'>,
  stream: (n: number) => Random,
): BenchMeters {
  const pressureMeter = createMeter(manometer, { timeS: 0, input: start.pilotPressure }, stream(4));
  const signalMeter = createMeter(multimeter, { timeS: 0, input: start.signal }, stream(5));
  const airMeter = createMeter(airLogger, { timeS: 0, input: start.fanPressure }, stream(6));
  const ofPressureMeter = createFaultyOutput();
  const ofSignalMeter = createFaultyOutput();
  return {
    step(stepS, timeS, { pilotPressure, signal, fanPressure, spark, pilotValve }, condition) {
      const air = airMeter.step(stepS, timeS, fanPressure);
      const outputs = [
        {
          port: practicePorts.pressure.port,
          line: ofPressureMeter(pressureMeter.step(stepS, timeS, pilotPressure), condition.manometer),
        },
        {
          port: practicePorts.signal.port,
          line: ofSignalMeter(signalMeter.step(stepS, timeS, signal), condition.multimeter),
        },
        {
          port: practicePorts.air.port,
          line: air && { ...air, text: `${air.text},${Number(spark)},${Number(pilotValve)}` },
        },
      ];
      return outputs.flatMap(({ port, line }) => (line ? [{ port, ...line }] : [])).sort((a, b) => a.atS - b.atS);
    },
  };
}

/** What a meter in some condition sends of its own lines: nothing when it is dead, its last text again when it is frozen. */
function createFaultyOutput(): (line: MeterLine | undefined, condition: MeterCondition) => MeterLine | undefined {
  let lastText: string | undefined;
  return (line, condition) => {
    if (!line || condition === 'dead') return undefined;
    if (condition === 'sound' || lastText === undefined) lastText = line.text;
    return { ...line, text: lastText };
  };
}
