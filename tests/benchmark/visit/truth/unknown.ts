import { type Simulated, indexOf, timeOf } from '../simulated.ts';
import type { EitherWay, StateName } from '../types.ts';
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
    for (let i = from; i < to; i += 1) blind(fault.meter, truth, labels, i);
    inferable(fault.meter, truth, noticed, to, allow);
  }
  return { labels, eitherWay };
}

function blind(meter: 'pilot_pressure' | 'flame_signal', truth: Labels, labels: Labels, i: number): void {
  if (meter === 'flame_signal') {
    labels.flame[i] = 'unknown';
    if (truth.gas[i] !== 'shut' && truth.phase[i] !== 'held') labels.phase[i] = 'unknown';
    if (truth.phase[i] === 'purge') labels.phase[i] = 'unknown';
    return;
  }
  labels.gas[i] = 'unknown';
  labels.regulator[i] = 'unknown';
  // A flame is seen by its own meter; whether one is out or lost is not.
  const seen = truth.flame[i] === 'burning' || truth.flame[i] === 'unsteady' || truth.flame[i] === 'lighting';
  if (!seen) labels.flame[i] = 'unknown';
  if (!seen || truth.phase[i] !== 'held') labels.phase[i] = 'unknown';
}

/** Where a flame burns, gas flows; where gas is shut, no flame burns: saying so is right, and so is saying nothing. */
function inferable(
  meter: 'pilot_pressure' | 'flame_signal',
  truth: Labels,
  from: number,
  to: number,
  allow: (of: StateName, from: number, to: number) => void,
): void {
  let start = from;
  const other = (i: number) =>
    meter === 'flame_signal' ? truth.gas[i] === 'shut' : ['burning', 'unsteady', 'lighting'].includes(truth.flame[i]!);
  for (let i = from; i <= to; i += 1) {
    if (i < to && other(i)) continue;
    if (i > start) for (const state of ['gas', 'flame', 'phase'] as const) allow(state, start, i);
    start = i + 1;
  }
}
