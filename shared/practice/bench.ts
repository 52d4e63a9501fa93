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
    label: 'Practice bench: meter on the flame signal',
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

/** What the technician's hands do; keys left out stay as they are. */
export interface BenchAction {
  turns?: number;
  pilotValve?: boolean;
  spark?: boolean;
  fan?: boolean;
}

export interface BenchState {
  scenario: string;
  scenarios: { name: string; says: string }[];
  turns: number;
  turnsMax: number;
  pilotValve: boolean;
  spark: boolean;
  fan: boolean;
  flame: boolean;
}

export interface PracticeBench {
  ports: { port: string; label: string; profile: string }[];
  /** Lines that left the meters since the last call, in the order of time. A `toMs` in the past gives none. */
  advance(toMs: number): BenchLine[];
  act(action: BenchAction): void;
  state(): BenchState;
}

/** 10 ms: a tenth of the fastest meter's period, and short against every lag of the bench. */
const stepMs = 10;
const fanS = 2;

/**
 * The invented burner with its hands and meters, stepped by the time that is passed in.
 *
 * It starts with the fan on, the pilot valve open, the pilot burning and the regulator near the middle of its screw.
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
  // Streams of their own, so that what one part draws never shifts what another one does.
  const stream = (n: number) => createRandom((Math.imul(seed, 0x9e37_79b1) + n) >>> 0);
  const { regulator: regulatorFacts, curve, fanOnly } = scenario;
  const stepS = stepMs / 1000;

  const hands = { turns: scenario.startTurns, pilotValve: true, spark: false, fan: true };
  let fanPressure = fanOnly;
  let burns = true;
  let stepsDone = 0;

  const regulator = createRegulator(regulatorFacts, { turns: hands.turns, fanPressure });
  const start = regulator.step(stepS, { turns: hands.turns, valveOpen: true, fanPressure });
  const flame = createFlame({ lightOff: scenario.lightOff, lossBelow: curve.lossBelow }, stream(1));
  const detector = createDetector(scenario.detector, curve, { pressure: start, stepS }, stream(2));
  const supply = stream(3);
  const signalStart = detector.step(stepS, { pressure: start, flame: true, spark: false });
  const manometer = createMeter(scenario.manometer, { timeS: 0, input: start }, stream(4));
  const multimeter = createMeter(scenario.multimeter, { timeS: 0, input: signalStart }, stream(5));
  let wander = 0;

  const step = (lines: BenchLine[]): void => {
    stepsDone += 1;
    const timeS = stepsDone * stepS;
    fanPressure += ((hands.fan ? fanOnly : 0) - fanPressure) * lagStep(stepS, fanS);
    const tap = regulator.step(stepS, { turns: hands.turns, valveOpen: hands.pilotValve, fanPressure });
    // Slow wander of the gas supply: 5 s correlated, in the flow and on the gauge alike.
    const keep = decay(stepS, 5);
    wander = keep * wander + Math.sqrt(1 - keep * keep) * supply.normal();
    const gauge = tap + (hands.pilotValve ? scenario.supplyWander * wander : 0);
    // Flow follows the pressure above what the flame zone has; the curve is drawn for the fan running.
    const pressure = gauge - fanPressure + fanOnly;
    burns = flame.step(stepS, { pressure, valveOpen: hands.pilotValve, spark: hands.spark, fan: hands.fan });
    const signal = detector.step(stepS, { pressure, flame: burns, spark: hands.spark });

    const said = [
      { port: practicePorts.pressure.port, line: manometer.step(stepS, timeS, gauge) },
      { port: practicePorts.signal.port, line: multimeter.step(stepS, timeS, signal) },
    ];
    const due = said.flatMap(({ port, line }) =>
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
        hands.turns = Math.min(Math.max(turns, 0), regulatorFacts.turnsMax);
      if (pilotValve !== undefined) hands.pilotValve = pilotValve;
      if (spark !== undefined) hands.spark = spark;
      if (fan !== undefined) hands.fan = fan;
    },
    state: () => ({
      scenario: scenario.name,
      scenarios: scenarios.map(({ name, says }) => ({ name, says })),
      ...hands,
      turnsMax: regulatorFacts.turnsMax,
      flame: burns,
    }),
  };
}
