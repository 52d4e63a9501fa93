import type { Capture } from '../model/capture.ts';
import { createRandom } from '../numerics/random.ts';
import { setupDefaults } from '../model/setup.ts';
import { createPracticeBench } from './bench.ts';
import type { TrueInterval } from './flame-curve.ts';
import { trueInterval } from './flame-curve.ts';
import type { LightOffFacts } from './flame.ts';
import { findScenario } from './scenarios.ts';
import type { Hands } from './technician.ts';
import { lightOffTrial, relight, setPressure, sweep } from './technician.ts';
import { watchBench } from './watched-bench.ts';

/** What is true of the invented burner in a visit, from the model and not from the readings; inH2O, V, s. */
export interface VisitTruth extends TrueInterval {
  /** Mean delay of the signal meter's readings behind the manometer's. */
  lag_s: number;
  /** The pressures that the sweeps went over, as the manometer showed them. */
  testedRange: [number, number];
  /** Where a light-off succeeds half of the time, spark with the gas and spark after 5 s. */
  lightOff: { low: number; high: number; highDelayed5s: number };
}

/**
 * A whole visit to an invented burner by a simulated technician: as found, a sweep down and one up, light-off trials,
 * set, as left. Simulated time; the same scenario and seed give the same capture.
 *
 * @param scenario  one of the names in `scenarios`
 */
export function simulateVisit(scenario: string, seed: number): { capture: Capture; truth: VisitTruth } {
  const found = findScenario(scenario);
  if (!found) throw new Error(`scenario must be one of the practice scenarios: ${scenario}`);
  const bench = watchBench(createPracticeBench({ scenario, seed }));
  const hands: Hands = {
    bench,
    turns: found.startTurns,
    turnsMax: found.regulator.turnsMax,
    random: createRandom((seed ^ 0x7ec4_41c1) >>> 0),
  };

  bench.wait(6);
  bench.mark('as-found', momentText(bench.shown('pressure', 3), bench.shown('signal', 3)));
  const best = bench.shown('signal', 3);
  sweep(hands, found.plan, 'down', best);
  relight(hands, found);
  sweep(hands, found.plan, 'up', best);
  relight(hands, found);
  const trials = found.plan.trials.map((wanted) => lightOffTrial(hands, found, wanted));
  setPressure(hands, found.plan.asLeft);
  bench.wait(4);
  const asLeft = Math.round(bench.shown('pressure', 3) * 100) / 100;
  bench.mark('as-left', momentText(asLeft, bench.shown('signal', 3)));
  bench.wait(1);

  const recorded = bench.recorded();
  const capture: Capture = {
    id: `practice-${found.name}-${seed}`,
    startedAt: found.startedAt,
    technician: 'R. Sandoval',
    practice: true,
    burner: found.burner,
    setup: { ...found.setup, asLeftPressure: { value: asLeft, unit: 'inH2O' } },
    trials,
    notes: [],
    ...recorded,
  };

  const testedRange = sweptRange(recorded);
  const { detector, multimeter, manometer } = found;
  const truth: VisitTruth = {
    ...trueInterval(found.curve, testedRange, {
      minimumSignal: found.setup.minimumSignal?.value,
      dropFraction: found.setup.signalDropFraction ?? setupDefaults.signalDropFraction,
    }),
    lag_s: detector.deadS + detector.lagS + multimeter.lagS - manometer.lagS,
    testedRange,
    lightOff: lightOffEnds(found.lightOff),
  };
  return { capture, truth };
}

/**
 * The same visit as a logger keeps it that ran during the sweeps only: a wide CSV has no marks that could tell a sweep
 * from a light-off trial.
 */
export function sweepsOnly(capture: Capture): Capture {
  const ends = capture.marks.filter(({ kind }) => kind === 'sweep-start' || kind === 'sweep-end');
  const inSweep = (elapsedS: number) => ends.findLast((mark) => mark.elapsedS <= elapsedS)?.kind === 'sweep-start';
  return { ...capture, readings: capture.readings.filter((reading) => inSweep(reading.elapsedS)) };
}

const momentText = (pressure: number, signal: number): string => `${pressure.toFixed(2)} inH2O, ${signal.toFixed(2)} V`;

const lightOffEnds = (facts: LightOffFacts): VisitTruth['lightOff'] => ({
  low: facts.low.at,
  high: facts.high.at,
  highDelayed5s: facts.high.at - 5 * facts.floodPerS,
});

function sweptRange({ readings, marks }: Pick<Capture, 'readings' | 'marks'>): [number, number] {
  const ends = marks.filter(({ kind }) => kind === 'sweep-start' || kind === 'sweep-end');
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let next = 0;
  for (const { elapsedS, role, value, flag } of readings) {
    while (next < ends.length && (ends[next]?.elapsedS ?? 0) <= elapsedS) next += 1;
    if (ends[next]?.kind !== 'sweep-end' || role !== 'pilot_pressure' || flag) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return [low, high];
}
