import { type Simulated, indexOf, timeOf } from '../simulated.ts';
import type { EitherWay, Flame, MeterFault, StateName } from '../types.ts';
import type { Labels } from './states.ts';

/** Silence of a meter that nobody needs to notice: three seconds, or three readings of a slow one. */
export const quietS = (hz: number): number => Math.max(3, 3 / hz);
/** A value that does not change shows that the meter is frozen after so long, given that noise moves its last digit. */
const frozenS = (hz: number): number => Math.max(8, 20 / hz);

/**
 * Where a dead, frozen or overloaded meter takes the ground from under a state, the state is unknown. For as long as the
 * fault cannot be noticed, and where the other meter still shows the state, the true word is right too.
 */
export function withUnknown(simulated: Simulated, truth: Labels): { labels: Labels; eitherWay: EitherWay[] } {
  const labels: Labels = {
    gas: [...truth.gas],
    flame: [...truth.flame],
    regulator: [...truth.regulator],
    phase: [...truth.phase],
  };
  const eitherWay: EitherWay[] = [];
  const { instruments, faults, n } = simulated;
  const allow = (of: StateName, from: number, to: number) => {
    const words = new Set<string>(['unknown', truth[of][Math.max(0, from - 1)]!]);
    for (let i = from; i < to; i += 1) words.add(truth[of][i]!);
    if (to > from) eitherWay.push({ of, from_s: timeOf(from), to_s: timeOf(to), words: [...words] });
  };
  for (const fault of faults) {
    if (fault.kind === 'zero-shift') continue;
    const meter = fault.meter === 'pilot_pressure' ? instruments.manometer : instruments.signal;
    const [from, to] = [indexOf(fault.from_s), Math.min(n, indexOf(fault.to_s))];
    const noticed = Math.min(
      to,
      from + indexOf(fault.kind === 'frozen' || fault.kind === 'hose-off' ? frozenS(meter.hz) : quietS(meter.hz)),
    );
    const states: StateName[] =
      fault.meter === 'pilot_pressure' ? ['gas', 'regulator', 'phase', 'flame'] : ['flame', 'phase'];
    for (const state of states) {
      allow(state, from, noticed);
      // The first readings after the fault have to be believed again.
      allow(state, to, Math.min(n, to + indexOf(quietS(meter.hz))));
    }
    if (fault.meter === 'pilot_pressure') withoutPressure(truth, labels, from, to);
    else withoutSignal(truth, labels, from, to);
    inferable(fault.meter, truth, noticed, to, allow);
  }
  return { labels, eitherWay };
}

const burns = (flame: Flame | undefined) => flame === 'burning' || flame === 'unsteady' || flame === 'lighting';

function withoutSignal(truth: Labels, labels: Labels, from: number, to: number): void {
  // What was proved stays proved until the gas is shut; what is lit meanwhile is not seen to be.
  let proved = truth.phase[Math.max(0, from - 1)] === 'held';
  for (let i = from; i < to; i += 1) {
    labels.flame[i] = 'unknown';
    if (truth.gas[i] === 'shut') proved = false;
    else if (!proved) labels.phase[i] = 'unknown';
    // No purge is counted while nobody sees that it is dark.
    if (truth.phase[i] === 'purge') labels.phase[i] = 'unknown';
  }
}

function withoutPressure(truth: Labels, labels: Labels, from: number, to: number): void {
  for (let i = from; i < to; i += 1) {
    labels.gas[i] = 'unknown';
    labels.regulator[i] = 'unknown';
    // A flame is seen by its own meter; whether one is out or lost is not.
    const seen = burns(truth.flame[i]);
    if (!seen) labels.flame[i] = 'unknown';
    if (!seen || truth.phase[i] !== 'held') labels.phase[i] = 'unknown';
  }
}

/** Where a flame burns, gas flows; where gas is shut, no flame burns: saying so is right, and so is saying nothing. */
function inferable(
  meter: MeterFault['meter'],
  truth: Labels,
  from: number,
  to: number,
  allow: (of: StateName, from: number, to: number) => void,
): void {
  const runs = (of: StateName[], holds: (i: number) => boolean) => {
    let start = from;
    for (let i = from; i <= to; i += 1) {
      if (i < to && holds(i)) continue;
      for (const state of of) allow(state, start, i);
      start = i + 1;
    }
  };
  if (meter === 'flame_signal') {
    runs(['flame', 'phase'], (i) => truth.gas[i] === 'shut');
    runs(['phase'], (i) => truth.phase[i] === 'trial');
  } else {
    runs(['gas', 'phase'], (i) => burns(truth.flame[i]));
    runs(['flame'], (i) => truth.flame[i] === 'dark');
  }
}
