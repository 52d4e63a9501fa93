import { purgeSecondsOf, trialSecondsOf } from '../model/trials/valid-trials.ts';
import { createRandom } from '../numerics/random.ts';
import type { BenchAction, BenchControls, BenchState } from './bench-controls.ts';
import { afterAction } from './bench-controls.ts';
import type { BenchLine } from './bench-meters.ts';
import { createBenchMeters, practicePorts } from './bench-meters.ts';
import type { ControlSettings } from './control.ts';
import { controlOutputs, nextControl, startingControl, timeLeftS } from './control.ts';
import { createDetector } from './detector.ts';
import { createFlame } from './flame.ts';
import { steadySignal } from './flame-curve.ts';
import { createRegulator } from './regulator.ts';
import { decay, lagStep } from './response.ts';
import type { Scenario } from './scenario.ts';
import { findScenario, scenarios } from './scenarios.ts';
import { nextValve } from './valve.ts';

export interface PracticeBench {
  ports: { port: string; label: string; profile: string }[];
  /** Lines that left the meters since the last call, in time order. A `toMs` in the past gives none. */
  advance(toMs: number): BenchLine[];
  act(action: BenchAction): void;
  state(): BenchState;
}

/** 10 ms: a tenth of the fastest meter's period, and short against every lag of the bench. */
const stepMs = 10;
/** Time constant of the fan running up and down, s, and what the blower delivers when it runs, inH2O (common practice: a few). */
const fanS = 2;
const blowerRunning = 2.5;
/** The control sees a flame from this part of the least acceptable signal on (common practice: well below it). */
const seenFrom = 0.4;

/**
 * The simulated burner with its controls and meters, advanced by the time that is passed in.
 *
 * It starts with the fan on, the pilot valve open, the pilot burning and the regulator near mid-travel; with a control, the test switch
 * holds it there. The same scenario, seed, actions and times give the same lines.
 *
 * @param scenario  one of the names in `scenarios`
 * @param startMs  where the clock of `advance` begins
 * @param hasControl  whether a burner control operates the pilot; else it is operated by hand
 */
export function createPracticeBench(options: {
  scenario: string;
  seed: number;
  startMs?: number;
  hasControl?: boolean;
}): PracticeBench {
  const scenario = findScenario(options.scenario);
  if (!scenario) throw new Error(`scenario must be one of the practice scenarios: ${options.scenario}`);
  return runBench(scenario, options.seed, options.startMs ?? 0, options.hasControl ?? false);
}

/** A control as it is usually set, for the burner of a scenario (common practice). */
const usualSettings = ({ setup }: Scenario): ControlSettings => ({
  prepurgeS: purgeSecondsOf(setup),
  trialS: trialSecondsOf(setup),
  sparkDelayS: 0,
  flameFailureS: 4,
  postpurgeS: 15,
  onFlameFailure: 'lockout',
});

function runBench(scenario: Scenario, seed: number, startMs: number, hasControl: boolean): PracticeBench {
  // One random stream for each part, so that the draws of one part never shift those of another.
  const stream = (n: number) => createRandom((Math.imul(seed, 0x9e37_79b1) + n) >>> 0);
  const { regulator: regulatorParameters, curve, fanOnly } = scenario;
  const stepS = stepMs / 1000;
  const seenSignal = seenFrom * (scenario.setup.minimumSignal?.value ?? 0);

  let controls: BenchControls = {
    turns: scenario.startTurns,
    hasControl,
    pilotValve: true,
    spark: false,
    fan: true,
    callForHeat: hasControl,
    testSwitch: 'hold-pilot',
    jumpered: false,
    settings: usualSettings(scenario),
    valve: 'sound',
    manometer: 'sound',
    multimeter: 'sound',
  };
  let control = startingControl('pilot-hold');
  let resetPressed = false;
  let fanPressure = fanOnly;
  let blowerPressure = blowerRunning;
  let valve = nextValve(true, true, 'sound');
  let isBurning = true;
  let isSeen = true;
  let stepsDone = 0;

  const regulator = createRegulator(regulatorParameters, { turns: controls.turns, fanPressure });
  const start = regulator.step(stepS, { turns: controls.turns, valve, fanPressure });
  const flame = createFlame({ lightOff: scenario.lightOff, lossBelow: curve.lossBelow }, stream(1));
  const detector = createDetector(scenario.detector, curve, { pressure: start, stepS }, stream(2));
  const supply = stream(3);
  const signalStart = detector.step(stepS, { pressure: start, flame: true, spark: false });
  const meters = createBenchMeters(
    scenario,
    { pilotPressure: start, signal: signalStart, fanPressure: blowerPressure },
    stream,
  );
  let supplyNoise = 0;

  const operate = (): void => {
    if (!controls.hasControl) return;
    const { callForHeat, testSwitch, jumpered, settings } = controls;
    const holdPilot = testSwitch === 'hold-pilot';
    const inputs = { callForHeat, holdPilot, jumpered, flameSeen: isSeen, reset: resetPressed };
    control = nextControl(control, inputs, settings, stepMs);
    resetPressed = false;
    controls = { ...controls, ...controlOutputs(control, settings) };
  };

  const step = (lines: BenchLine[]): void => {
    stepsDone += 1;
    const timeS = stepsDone * stepS;
    operate();
    const { turns, pilotValve, spark, fan } = controls;
    fanPressure += ((fan ? fanOnly : 0) - fanPressure) * lagStep(stepS, fanS);
    blowerPressure += ((fan ? blowerRunning : 0) - blowerPressure) * lagStep(stepS, fanS);
    valve = nextValve(valve.open, pilotValve, controls.valve);
    const tap = regulator.step(stepS, { turns, valve, fanPressure });
    // Slow wander of the supply pressure (correlation time 5 s), in the flow and on the gauge alike.
    const correlation = decay(stepS, 5);
    supplyNoise = correlation * supplyNoise + Math.sqrt(1 - correlation * correlation) * supply.normal();
    const gauge = tap + (valve.open ? scenario.supplyWander * supplyNoise : 0);
    // Flow follows the pressure above that of the flame zone; the curve is given for the fan running.
    const pressure = gauge - fanPressure + fanOnly;
    isBurning = flame.step(stepS, { pressure, valveOpen: valve.open, spark, fan });
    isSeen = isBurning && steadySignal(curve, pressure) >= seenSignal;
    const signal = detector.step(stepS, { pressure, flame: isBurning, spark });

    const measured = { pilotPressure: gauge, signal, fanPressure: blowerPressure, spark, pilotValve };
    for (const { port, text, atS } of meters.step(stepS, timeS, measured, controls))
      lines.push({ port, text, atMs: startMs + atS * 1000 });
  };

  return {
    ports: Object.values(practicePorts),
    advance(toMs) {
      const lines: BenchLine[] = [];
      while (startMs + (stepsDone + 1) * stepMs <= toMs) step(lines);
      return lines;
    },
    act(action) {
      const hadControl = controls.hasControl;
      controls = afterAction(controls, action, regulatorParameters.turnsMax);
      if (controls.hasControl && !hadControl) control = startingControl('standby');
      resetPressed ||= action.reset ?? false;
      if (action.blowOff) flame.blowOff();
    },
    state: () => {
      const leftS = controls.hasControl ? timeLeftS(control, controls.settings) : undefined;
      return {
        scenario: scenario.name,
        scenarios: scenarios.map(({ name, description }) => ({ name, description })),
        ...controls,
        turnsMax: regulatorParameters.turnsMax,
        flame: isBurning,
        ...(controls.hasControl && { sequence: control.state }),
        ...(leftS !== undefined && { secondsLeft: Math.ceil(leftS) }),
      };
    },
  };
}
