import { createRandom } from '../numerics/random.ts';
import { createDetector } from './detector.ts';
import { createFlame } from './flame.ts';
import { createMeter } from './meter.ts';
import { createRegulator } from './regulator.ts';
import type { Scenario } from './scenario.ts';
import { findScenario, scenarios } from './scenarios.ts';
import { decay, lagStep } from './response.ts';

/** The two meters of the practice bench: port name and the built-in profile that reads it. */
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
} as const;

export interface BenchLine {
  port: string;
  /** The line without its line end. */
  text: string;
  /** When it left the meter, on the clock of `advance`. */
  atMs: number;
}

/** What the technician operates: screw turns, valve, spark and fan; keys left out stay as they are. */
export interface BenchAction {
  turns?: number;
  pilotValve?: boolean;
  spark?: boolean;
  fan?: boolean;
}

export interface BenchState {
  scenario: string;
  scenarios: { name: string; description: string }[];
  turns: number;
  turnsMax: number;
  pilotValve: boolean;
  spark: boolean;
  fan: boolean;
  flame: boolean;
}

export interface PracticeBench {
  ports: { port: string; label: string; profile: string }[];
  /** Lines that left the meters since the last call, in time order. A `toMs` in the past gives none. */
  advance(toMs: number): BenchLine[];
  act(action: BenchAction): void;
  state(): BenchState;
}

/** 10 ms: a tenth of the fastest meter's period, and short against every lag of the bench. */
const stepMs = 10;
const fanS = 2;

/**
 * The simulated burner with its controls and meters, advanced by the time that is passed in.
 *
 * It starts with the fan on, the pilot valve open, the pilot burning and the regulator near mid-travel.
 * The same scenario, seed, actions and times give the same lines.
 *
 * @param scenario  one of the names in `scenarios`
 * @param startMs  where the clock of `advance` begins
 */
export function createPracticeBench(options: { scenario: string; seed: number; startMs?: number }): PracticeBench {
  const scenario = findScenario(options.scenario);
  if (!scenario) throw new Error(`scenario must be one of the practice scenarios: ${options.scenario}`);
  return runBench(scenario, options.seed, options.startMs ?? 0);
}

function runBench(scenario: Scenario, seed: number, startMs: number): PracticeBench {
  // One random stream for each part, so that the draws of one part never shift those of another.
  const stream = (n: number) => createRandom((Math.imul(seed, 0x9e37_79b1) + n) >>> 0);
  const { regulator: regulatorParameters, curve, fanOnly } = scenario;
  const stepS = stepMs / 1000;

  const controls = { turns: scenario.startTurns, pilotValve: true, spark: false, fan: true };
  let fanPressure = fanOnly;
  let isBurning = true;
  let stepsDone = 0;

  const regulator = createRegulator(regulatorParameters, { turns: controls.turns, fanPressure });
  const start = regulator.step(stepS, { turns: controls.turns, valveOpen: true, fanPressure });
  const flame = createFlame({ lightOff: scenario.lightOff, lossBelow: curve.lossBelow }, stream(1));
  const detector = createDetector(scenario.detector, curve, { pressure: start, stepS }, stream(2));
  const supply = stream(3);
  const signalStart = detector.step(stepS, { pressure: start, flame: true, spark: false });
  const manometer = createMeter(scenario.manometer, { timeS: 0, input: start }, stream(4));
  const multimeter = createMeter(scenario.multimeter, { timeS: 0, input: signalStart }, stream(5));
  let supplyNoise = 0;

  const step = (lines: BenchLine[]): void => {
    stepsDone += 1;
    const timeS = stepsDone * stepS;
    fanPressure += ((controls.fan ? fanOnly : 0) - fanPressure) * lagStep(stepS, fanS);
    const tap = regulator.step(stepS, { turns: controls.turns, valveOpen: controls.pilotValve, fanPressure });
    // Slow wander of the supply pressure (correlation time 5 s), in the flow and on the gauge alike.
    const correlation = decay(stepS, 5);
    supplyNoise = correlation * supplyNoise + Math.sqrt(1 - correlation * correlation) * supply.normal();
    const gauge = tap + (controls.pilotValve ? scenario.supplyWander * supplyNoise : 0);
    // Flow follows the pressure above that of the flame zone; the curve is given for the fan running.
    const pressure = gauge - fanPressure + fanOnly;
    isBurning = flame.step(stepS, {
      pressure,
      valveOpen: controls.pilotValve,
      spark: controls.spark,
      fan: controls.fan,
    });
    const signal = detector.step(stepS, { pressure, flame: isBurning, spark: controls.spark });

    const outputs = [
      { port: practicePorts.pressure.port, line: manometer.step(stepS, timeS, gauge) },
      { port: practicePorts.signal.port, line: multimeter.step(stepS, timeS, signal) },
    ];
    const due = outputs.flatMap(({ port, line }) =>
      line ? [{ port, text: line.text, atMs: startMs + line.atS * 1000 }] : [],
    );
    lines.push(...due.sort((a, b) => a.atMs - b.atMs));
  };

  return {
    ports: [practicePorts.pressure, practicePorts.signal],
    advance(toMs) {
      const lines: BenchLine[] = [];
      while (startMs + (stepsDone + 1) * stepMs <= toMs) step(lines);
      return lines;
    },
    act({ turns, pilotValve, spark, fan }) {
      if (turns !== undefined && Number.isFinite(turns))
        controls.turns = Math.min(Math.max(turns, 0), regulatorParameters.turnsMax);
      if (pilotValve !== undefined) controls.pilotValve = pilotValve;
      if (spark !== undefined) controls.spark = spark;
      if (fan !== undefined) controls.fan = fan;
    },
    state: () => ({
      scenario: scenario.name,
      scenarios: scenarios.map(({ name, description }) => ({ name, description })),
      ...controls,
      turnsMax: regulatorParameters.turnsMax,
      flame: isBurning,
    }),
  };
}
