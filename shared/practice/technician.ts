import type { Trial } from '../model/capture.ts';
import type { Random } from '../numerics/random.ts';
import type { Plan, Scenario } from './scenario.ts';
import type { WatchedBench } from './watched-bench.ts';

/** What the technician's hands know: where the screw stands. */
export interface Hands {
  bench: WatchedBench;
  turns: number;
  readonly turnsMax: number;
  readonly random: Random;
}

const round3 = (value: number): number => Math.round(value * 1000) / 1000;

/** Turns the screw slowly to `turns`, a few small moves a second, as a hand on a screwdriver does. */
function turnTo(hands: Hands, turns: number, turnsPerS: number): void {
  const target = Math.min(Math.max(turns, 0), hands.turnsMax);
  const everyS = 0.2;
  while (Math.abs(target - hands.turns) > 1e-9) {
    const most = turnsPerS * everyS;
    hands.turns += Math.min(Math.max(target - hands.turns, -most), most);
    hands.bench.act({ turns: hands.turns });
    hands.bench.wait(everyS);
  }
}

/** Brings the gauge to `pressure` within 0.01 inH2O or to a screw end, always reading the gauge at rest. */
export function setPressure(hands: Hands, pressure: number): void {
  for (let i = 0; i < 20; i += 1) {
    hands.bench.wait(2.5);
    const off = pressure - hands.bench.shown('pressure', 0.8);
    if (Math.abs(off) <= 0.01) return;
    const before = hands.turns;
    // About 0.6 inH2O a turn; a little less, so as to come up to it and not past it.
    turnTo(hands, hands.turns + off * 1.3, 0.4);
    if (hands.turns === before) return;
  }
}

/**
 * One sweep in one direction: small slow turns with a dwell after each, until the plan's pressure, a screw end, a
 * signal that has sagged enough, or no flame. Marks its own start and end.
 */
export function sweep(hands: Hands, plan: Plan, direction: 'down' | 'up', best: number): void {
  const { bench, random } = hands;
  const sign = direction === 'up' ? 1 : -1;
  const stop = direction === 'up' ? plan.highest : plan.lowest;
  let highest = best;
  bench.mark('sweep-start', direction);
  for (;;) {
    const before = hands.turns;
    turnTo(hands, hands.turns + sign * (0.14 + 0.08 * random.uniform()), 0.09);
    bench.wait(2 + 1.5 * random.uniform());
    const signal = bench.shown('signal', 1);
    highest = Math.max(highest, signal);
    const reached = sign * (bench.shown('pressure', 0.5) - stop) >= 0;
    if (reached || hands.turns === before || signal < plan.turnBackBelow * highest) break;
  }
  // The slowest detectors have settled by then.
  bench.wait(4);
  bench.mark('sweep-end', direction);
}

/** Lights the pilot in the middle of the window if it is out. */
export function relight(hands: Hands, scenario: Scenario): void {
  const { bench } = hands;
  const least = leastSignal(scenario);
  for (let i = 0; i < 10 && !(bench.shown('signal', 1) >= least); i += 1) {
    bench.act({ pilotValve: false, spark: false });
    bench.wait(scenario.setup.purgeSeconds ?? 60);
    turnTo(hands, scenario.startTurns, 0.5);
    bench.act({ pilotValve: true, spark: true });
    bench.wait(4);
    bench.act({ spark: false });
    bench.wait(4);
  }
}

const leastSignal = (scenario: Scenario): number => scenario.setup.minimumSignal?.value ?? 0;

/**
 * One light-off trial: purge, gas, spark after the delay, then watching the flame signal until the trial time is over.
 * `timeToProveS` counts from the moment the pilot valve opens, as the control's trial timer does.
 */
export function lightOffTrial(hands: Hands, scenario: Scenario, wanted: Plan['trials'][number]): Trial {
  const { bench } = hands;
  const trialS = scenario.setup.pilotTrialSeconds ?? 10;
  setPressure(hands, wanted.pressure);
  const pressure = round3(bench.shown('pressure', 1));
  const elapsedS = bench.elapsedS;
  bench.mark('trial-start', `${pressure.toFixed(2)} inH2O, spark after ${wanted.sparkDelayS} s`);
  bench.act({ pilotValve: false });
  bench.wait(scenario.setup.purgeSeconds ?? 60);
  const gasOnS = bench.elapsedS;
  bench.act({ pilotValve: true, spark: wanted.sparkDelayS === 0 });
  bench.wait(wanted.sparkDelayS);
  bench.act({ spark: true });

  let timeToProveS: number | undefined;
  while (timeToProveS === undefined && bench.elapsedS - gasOnS < trialS - 1e-6) {
    bench.wait(0.1);
    if (bench.shown('signal', 0.25) >= leastSignal(scenario)) timeToProveS = round3(bench.elapsedS - gasOnS);
  }
  const lit = timeToProveS !== undefined;
  bench.act({ spark: false, pilotValve: lit });
  bench.mark('trial-end', lit ? 'lit' : 'did not light');
  if (!lit) relight(hands, scenario);
  return {
    pressure,
    unit: 'inH2O',
    sparkDelayS: wanted.sparkDelayS,
    lit,
    ...(timeToProveS !== undefined && { timeToProveS }),
    elapsedS,
  };
}
