import type { Trial } from '../model/capture.ts';
import { formatPressure } from '../model/format.ts';
import { setupDefaults } from '../model/setup.ts';
import type { Random } from '../numerics/random.ts';
import type { VisitPlan, Scenario } from './scenario.ts';
import type { RecordingBench } from './recording-bench.ts';

/** The simulated technician at the bench, and where the regulator screw is. */
export interface Technician {
  bench: RecordingBench;
  turns: number;
  readonly turnsMax: number;
  readonly random: Random;
}

const round3 = (value: number): number => Math.round(value * 1000) / 1000;

/** Turns the screw slowly to `turns`, in a few small moves a second, as one does with a screwdriver. */
function turnTo(technician: Technician, turns: number, turnsPerS: number): void {
  const target = Math.min(Math.max(turns, 0), technician.turnsMax);
  const everyS = 0.2;
  while (Math.abs(target - technician.turns) > 1e-9) {
    const largestMove = turnsPerS * everyS;
    technician.turns += Math.min(Math.max(target - technician.turns, -largestMove), largestMove);
    technician.bench.act({ turns: technician.turns });
    technician.bench.wait(everyS);
  }
}

/** Sets `pressure` to within 0.01 inH2O, or as near as the screw allows; reads the gauge only once it has settled. */
export function setPressure(technician: Technician, pressure: number): void {
  for (let i = 0; i < 20; i += 1) {
    technician.bench.wait(2.5);
    const error = pressure - technician.bench.displayed('pressure', 0.8);
    if (Math.abs(error) <= 0.01) return;
    const before = technician.turns;
    // Most of these regulators need 1.5 turns for 1 inH2O; a little less, so as to approach it without overshoot.
    turnTo(technician, technician.turns + error * 1.3, 0.4);
    if (technician.turns === before) return;
  }
}

/**
 * One sweep in one direction: small slow turns with a dwell after each, until the plan's pressure, an end of the screw,
 * or a signal below the plan's fraction of the highest so far. Marks its own start and end.
 */
export function sweep(technician: Technician, plan: VisitPlan, direction: 'down' | 'up', highestSignal: number): void {
  const { bench, random } = technician;
  const sign = direction === 'up' ? 1 : -1;
  const stop = direction === 'up' ? plan.highest : plan.lowest;
  let highest = highestSignal;
  bench.mark('sweep-start', direction);
  for (;;) {
    const before = technician.turns;
    turnTo(technician, technician.turns + sign * (0.14 + 0.08 * random.uniform()), 0.09);
    bench.wait(2 + 1.5 * random.uniform());
    const signal = bench.displayed('signal', 1);
    highest = Math.max(highest, signal);
    const reached = sign * (bench.displayed('pressure', 0.5) - stop) >= 0;
    if (reached || technician.turns === before || signal < plan.turnBackBelow * highest) break;
  }
  // Long enough for the slowest detector to settle.
  bench.wait(4);
  bench.mark('sweep-end', direction);
}

/** Lights the pilot in the middle of the window if it is out. */
export function relight(technician: Technician, scenario: Scenario): void {
  const { bench } = technician;
  const required = minimumSignal(scenario);
  for (let i = 0; i < 10 && !(bench.displayed('signal', 1) >= required); i += 1) {
    bench.act({ pilotValve: false, spark: false });
    bench.wait(scenario.setup.purgeSeconds ?? 60);
    turnTo(technician, scenario.startTurns, 0.5);
    bench.act({ pilotValve: true, spark: true });
    bench.wait(4);
    bench.act({ spark: false });
    bench.wait(4);
  }
}

const minimumSignal = (scenario: Scenario): number => scenario.setup.minimumSignal?.value ?? 0;

/**
 * One light-off trial: purge, gas, spark after the delay, then watching the flame signal until the trial time is over.
 * `timeToProveS` counts from the moment the pilot valve opens, as the control's trial timer does.
 */
export function lightOffTrial(technician: Technician, scenario: Scenario, planned: VisitPlan['trials'][number]): Trial {
  const { bench } = technician;
  const trialS = scenario.setup.pilotTrialSeconds ?? 10;
  setPressure(technician, planned.pressure);
  const pressure = round3(bench.displayed('pressure', 1));
  const elapsedS = bench.elapsedS;
  bench.mark('trial-start', `${formatPressure(pressure, 'inH2O')}, spark after ${planned.sparkDelayS} s`);
  bench.act({ pilotValve: false });
  bench.wait(scenario.setup.purgeSeconds ?? 60);
  const gasOnS = bench.elapsedS;
  bench.act({ pilotValve: true, spark: planned.sparkDelayS === 0 });
  bench.wait(planned.sparkDelayS);
  bench.act({ spark: true });

  let timeToProveS: number | undefined;
  while (timeToProveS === undefined && bench.elapsedS - gasOnS < trialS - 1e-6) {
    bench.wait(0.1);
    if (bench.displayed('signal', 0.25) >= minimumSignal(scenario)) timeToProveS = round3(bench.elapsedS - gasOnS);
  }
  const lit = timeToProveS !== undefined;
  bench.act({ spark: false, pilotValve: lit });
  bench.mark('trial-end', lit ? 'lit' : 'did not light');
  if (!lit) relight(technician, scenario);
  return {
    pressure,
    unit: 'inH2O',
    sparkDelayS: planned.sparkDelayS,
    lit,
    ...(timeToProveS !== undefined && { timeToProveS }),
    elapsedS,
  };
}

/** The light-off trials that prove a setting, made where the regulator now stands: three plain and one delayed (common practice). */
export function proveSetting(technician: Technician, scenario: Scenario): Trial[] {
  const delayed = (scenario.setup.pilotTrialSeconds ?? setupDefaults.pilotTrialSeconds) / 2;
  return [0, 0, 0, delayed].map((sparkDelayS) =>
    lightOffTrial(technician, scenario, { pressure: scenario.plan.asLeft, sparkDelayS }),
  );
}
