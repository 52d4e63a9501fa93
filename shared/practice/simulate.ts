import type { Capture } from '../model/capture.ts';
import { formatPressure, formatSignal } from '../model/format.ts';
import { setupDefaults } from '../model/setup.ts';
import { createRandom } from '../numerics/random.ts';
import { createPracticeBench } from './bench.ts';
import type { TrueInterval } from './flame-curve.ts';
import { trueInterval } from './flame-curve.ts';
import type { LightOffParameters } from './flame.ts';
import { findScenario } from './scenarios.ts';
import type { Technician } from './technician.ts';
import { lightOffTrial, proveSetting, relight, setPressure, sweep } from './technician.ts';
import { createRecordingBench } from './recording-bench.ts';

/** The truth about the simulated burner of a visit, from its model and not from the readings; inH2O, V, s. */
export interface VisitTruth extends TrueInterval {
  /** Mean lag of the signal meter's readings behind the manometer's. */
  lag_s: number;
  /** Lowest and highest pressure of the sweeps, as the manometer showed them. */
  testedRange: [number, number];
  /** Pressures at which half of the light-offs succeed: spark with the gas, and at the high end also spark 5 s later. */
  lightOff: { low: number; high: number; highDelayed5s: number };
}

/**
 * A whole visit to a simulated burner by a simulated technician: as found, one sweep down and one up, light-off trials,
 * setting, light-off trials there, as left. Simulated time; the same scenario and seed give the same capture.
 *
 * @param name  one of the names in `scenarios`
 */
export function simulateVisit(name: string, seed: number): { capture: Capture; truth: VisitTruth } {
  const scenario = findScenario(name);
  if (!scenario) throw new Error(`scenario must be one of the practice scenarios: ${name}`);
  const bench = createRecordingBench(createPracticeBench({ scenario: name, seed }));
  const technician: Technician = {
    bench,
    turns: scenario.startTurns,
    turnsMax: scenario.regulator.turnsMax,
    random: createRandom((seed ^ 0x7ec4_41c1) >>> 0),
  };

  bench.wait(6);
  bench.mark('as-found', readingText(bench.displayed('pressure', 3), bench.displayed('signal', 3)));
  const highestSignal = bench.displayed('signal', 3);
  sweep(technician, scenario.plan, 'down', highestSignal);
  relight(technician, scenario);
  sweep(technician, scenario.plan, 'up', highestSignal);
  relight(technician, scenario);
  const trials = scenario.plan.trials.map((planned) => lightOffTrial(technician, scenario, planned));
  setPressure(technician, scenario.plan.asLeft);
  trials.push(...proveSetting(technician, scenario));
  bench.wait(4);
  const asLeft = Math.round(bench.displayed('pressure', 3) * 100) / 100;
  bench.mark('as-left', readingText(asLeft, bench.displayed('signal', 3)));
  bench.wait(1);

  const recorded = bench.recorded();
  const capture: Capture = {
    id: `practice-${scenario.name}-${seed}`,
    startedAt: scenario.startedAt,
    technician: 'R. Sandoval',
    practice: true,
    burner: scenario.burner,
    setup: { ...scenario.setup, asLeftPressure: { value: asLeft, unit: 'inH2O' } },
    trials,
    notes: [],
    ...recorded,
  };

  const testedRange = sweptRange(recorded);
  const { detector, multimeter, manometer } = scenario;
  const truth: VisitTruth = {
    ...trueInterval(scenario.curve, testedRange, {
      minimumSignal: scenario.setup.minimumSignal?.value,
      dropFraction: scenario.setup.signalDropFraction ?? setupDefaults.signalDropFraction,
    }),
    lag_s: detector.deadS + detector.lagS + multimeter.lagS - manometer.lagS,
    testedRange,
    lightOff: lightOffEnds(scenario.lightOff),
  };
  return { capture, truth };
}

/**
 * The same visit as recorded by a logger that ran during the sweeps only: it has no marks to tell a sweep from a light-off trial.
 */
export function sweepsOnly(capture: Capture): Capture {
  const ends = capture.marks.filter(({ kind }) => kind === 'sweep-start' || kind === 'sweep-end');
  const inSweep = (elapsedS: number) => ends.findLast((mark) => mark.elapsedS <= elapsedS)?.kind === 'sweep-start';
  return { ...capture, marks: [], readings: capture.readings.filter((reading) => inSweep(reading.elapsedS)) };
}

const readingText = (pressure: number, signal: number): string =>
  `${formatPressure(pressure, 'inH2O')}, ${formatSignal(signal, 'V')}`;

const lightOffEnds = (parameters: LightOffParameters): VisitTruth['lightOff'] => ({
  low: parameters.low.at,
  high: parameters.high.at,
  highDelayed5s: parameters.high.at - 5 * parameters.floodPerS,
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
