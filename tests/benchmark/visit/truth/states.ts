import { type Simulated, indexOf, timeOf } from '../simulated.ts';
import { type Flame, type Gas, type Phase, type Regulator } from '../types.ts';
import { type Opening, proofOf } from './events.ts';
import { turnsOf } from './turning.ts';

/** A word for each step of the simulation. */
export interface Labels {
  gas: Gas[];
  flame: Flame[];
  regulator: Regulator[];
  phase: Phase[];
}

/** How near the pressure is to its rest when gas counts as flowing or shut: 5 % of the way. */
const near = 0.05;

/** Opening: valve on its way and pressure rising. Closing: until the pressure rests. A leak that rests high flows. */
export function gasOf({ trace, n }: Simulated): Gas[] {
  const gas: Gas[] = [];
  let arrived = true;
  let way = 0;
  for (let i = 0; i < n; i += 1) {
    const [p, rest, fan, open] = [trace.pressure[i]!, trace.rest[i]!, trace.fanOnly[i]!, trace.valve[i]!];
    if (i > 0 && open !== trace.valve[i - 1]) {
      arrived = false;
      way = open ? trace.stand[i]! - fan : p - fan;
    }
    arrived ||= open ? p - fan >= (1 - near) * (trace.stand[i]! - fan) : p - rest <= near * way;
    const flows = open || rest - fan > near * way;
    gas.push(arrived ? (flows && way + (open ? 1 : 0) > 0 ? 'flowing' : 'shut') : open ? 'opening' : 'closing');
  }
  return gas;
}

/** Deviation of flicker, as a share of the plateau, above which a flame is unsteady. */
export const unsteadyAbove = 0.08;

export function flameOf(simulated: Simulated, gas: Gas[], openings: Opening[]): Flame[] {
  const { trace, n, plateau, facts } = simulated;
  const flame: Flame[] = Array.from({ length: n }, () => 'dark');
  const level = plateau - facts.detector.dark;
  openings.forEach((opening, k) => {
    const next = openings[k + 1]?.from ?? n;
    let burned = opening.flames.some((run) => run.from < opening.from || run.from === 0);
    for (let i = opening.from; i < next; i += 1) {
      burned ||= trace.flame[i]!;
      if (!burned) continue;
      const shut = gas[i] === 'shut' || (gas[i] === 'closing' && !trace.flame[i]);
      if (!trace.flame[i]) flame[i] = shut ? 'out' : 'lost';
      else flame[i] = trace.flicker[i]! > unsteadyAbove * level ? 'unsteady' : 'burning';
    }
    for (const run of opening.flames) {
      if (run.from === 0) continue;
      const end = lightingEnds(simulated, run.from, run.to);
      for (let i = run.from; i < end; i += 1) flame[i] = 'lighting';
    }
  });
  return flame;
}

/** Step at which a flame lit at `from` counts as burning: 80 % of the steady signal, or what five lags would bring. */
export function lightingEnds(simulated: Simulated, from: number, to: number): number {
  const { deadS, lagS } = simulated.facts.detector;
  const reached = proofOf(simulated, from, to).eighty_s;
  return Math.min(to, indexOf(reached ?? Infinity), from + indexOf(deadS + 5 * lagS + 1));
}

export function regulatorOf(simulated: Simulated, gas: Gas[]): Regulator[] {
  const { trace } = simulated;
  const regulator = gas.map((state, i): Regulator => {
    const leaks = !trace.valve[i] && trace.rest[i]! < 0.98 * trace.stand[i]!;
    if (state === 'shut' || state === 'closing' || leaks) return 'unknown';
    return Math.abs(trace.pressure[i]! - trace.stand[i]!) > 0.02 * trace.stand[i]! ? 'settling' : 'at-rest';
  });
  for (const turn of turnsOf(simulated))
    for (let i = turn.from; i < turn.to; i += 1)
      if (regulator[i] !== 'unknown' && gas[i] === 'flowing')
        regulator[i] = turn.way > 0 ? 'turning-in' : 'turning-out';
  return regulator;
}

/** Whether air is shown to move at a step: by a wired fan pressure, or confirmed by the technician. */
export const airShown = ({ trace, instruments, airConfirmed }: Simulated, i: number): boolean =>
  (instruments.fan && trace.fanSpeed[i]! ** 2 > 0.5) ||
  airConfirmed.some(([from, to]) => timeOf(i) >= from && timeOf(i) < to);

export function phaseOf(simulated: Simulated, gas: Gas[], flame: Flame[], openings: Opening[]): Phase[] {
  const { n, trialS } = simulated;
  const phase: Phase[] = Array.from({ length: n }, () => 'before-gas');
  openings.forEach((opening, k) => {
    const next = openings[k + 1]?.from ?? n;
    const lit = opening.flames.find((run) => run.from >= opening.from || run.from === 0);
    const proof =
      lit && lit.from > 0 ? proofOf(simulated, lit.from, opening.to).proved_s : opening.from > 0 ? undefined : 0;
    const proved = proof === undefined ? n : indexOf(proof);
    const over = opening.from + indexOf(trialS);
    let wasShut = false;
    for (let i = opening.from; i < next; i += 1) {
      wasShut ||= gas[i] === 'shut';
      if (!wasShut) phase[i] = i >= proved ? 'held' : i < over || gas[i] === 'closing' ? 'trial' : 'unknown';
      else if (k + 1 === openings.length) phase[i] = 'after';
      else phase[i] = flame[i] !== 'unknown' && airShown(simulated, i) ? 'purge' : 'wait';
    }
  });
  return phase;
}
