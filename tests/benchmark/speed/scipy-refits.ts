import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import type { SweepFacts } from '../sweep/simulate.ts';
import type { Capture } from '../../../shared/model/capture.ts';

/** What one refit by SciPy took, by method, and the versions used. */
export interface SciPyRefits {
  seconds: { lm: number; trf: number };
  evaluations: { lm: number; trf: number };
  fitted: number[];
  scipy: string;
  numpy: string;
  python: string;
}

/** Debian's own Python first, then whatever is found under that name. */
const pythons = ['/usr/bin/python3', 'python3'];

/** Refits the sweep with SciPy; undefined where there is none. Anything else that goes wrong throws. */
export function refitWithSciPy(capture: Capture, facts: SweepFacts, refits: number): SciPyRefits | undefined {
  const python = pythons.find((name) => spawnSync(name, ['-c', 'import scipy.optimize, scipy.signal']).status === 0);
  if (!python) return undefined;
  const of = (role: string) => capture.readings.filter((reading) => reading.role === role);
  const { curve } = facts;
  const task = {
    pressureTimes: of('pilot_pressure').map((reading) => reading.elapsedS),
    pressure: of('pilot_pressure').map((reading) => reading.value),
    signalTimes: of('flame_signal').map((reading) => reading.elapsedS),
    signal: of('flame_signal').map((reading) => reading.value),
    start: [
      curve.dark,
      curve.amplitude,
      curve.low,
      Math.log(curve.lowWidth),
      curve.high,
      Math.log(curve.highWidth),
      facts.deadS - facts.manometerLagS,
      Math.sqrt(facts.lagS),
    ],
    refits,
  };
  const done = spawnSync(python, [join(import.meta.dirname, 'refits.py')], {
    input: JSON.stringify(task),
    encoding: 'utf8',
    maxBuffer: 1e8,
  });
  if (done.status !== 0) throw new Error(`refits.py ended with ${done.status}: ${done.stderr}`);
  return JSON.parse(done.stdout) as SciPyRefits;
}
