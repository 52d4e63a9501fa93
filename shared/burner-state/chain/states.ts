import type { FlameState, GasState } from '../../model/burner-words.ts';
import { orderMoves, type Transitions } from '../../numerics/hidden-markov.ts';
import type { SignalPattern } from './signal-step.ts';

export { type FlameState, flameStates, type GasState, gasStates } from '../../model/burner-words.ts';

/** One state of the hidden Markov chain: gas and flame together, since a flame needs gas. */
interface HiddenState {
  name: string;
  gas: Exclude<GasState, 'unknown'>;
  flame: FlameState;
  pattern: SignalPattern;
}

const state = (
  name: string,
  gas: HiddenState['gas'],
  flame: HiddenState['flame'],
  pattern: SignalPattern,
): HiddenState => ({ name, gas, flame, pattern });

/** The states of the chain. `following`: the signal moves with the pressure on a shoulder. A self-check pulse is a burning flame whose signal has fallen for part of a second. */
export const hiddenStates: readonly HiddenState[] = [
  state('shut-dark', 'shut', 'dark', 'fallen'),
  state('shut-out', 'shut', 'out', 'fallen'),
  state('shut-disturbed', 'shut', 'dark', 'disturbed'),
  // Hot refractory, a spark or another flame gives a signal while gas is shut: what it is, nobody can tell from it.
  state('shut-bright', 'shut', 'unknown', 'without-gas'),
  // The fan moves more air than at light-off, as in a purge: the gauge at the pilot tap shows that too.
  state('shut-dark-more-air', 'shut', 'dark', 'fallen'),
  state('shut-out-more-air', 'shut', 'out', 'fallen'),
  state('shut-bright-more-air', 'shut', 'unknown', 'without-gas'),
  state('opening', 'opening', 'dark', 'fallen'),
  // A flame may take hold before the valve is open.
  state('opening-lighting', 'opening', 'lighting', 'rising'),
  // What was seen before the gas goes on over it: whether the pilot has lit meanwhile, nobody can tell from it.
  state('opening-bright', 'opening', 'unknown', 'without-gas'),
  state('unlit', 'flowing', 'dark', 'fallen'),
  state('sparking', 'flowing', 'dark', 'disturbed'),
  state('lighting', 'flowing', 'lighting', 'rising'),
  state('bright', 'flowing', 'unknown', 'lingering'),
  state('burning', 'flowing', 'burning', 'steady'),
  state('following', 'flowing', 'burning', 'following'),
  state('faint', 'flowing', 'burning', 'faint'),
  state('unsteady', 'flowing', 'unsteady', 'flickering'),
  state('pulse-1', 'flowing', 'burning', 'fallen'),
  state('pulse-2', 'flowing', 'burning', 'fallen'),
  state('pulse-3', 'flowing', 'burning', 'fallen'),
  state('pulse-4', 'flowing', 'burning', 'fallen'),
  state('pulse-over', 'flowing', 'burning', 'rising'),
  state('lost', 'flowing', 'lost', 'fallen'),
  // A control sparks on through the trial for ignition, whether or not the flame has just gone out.
  state('lost-sparking', 'flowing', 'lost', 'disturbed'),
  // Hot refractory leaves some of the signal where a flame has gone out.
  state('lost-glowing', 'flowing', 'lost', 'faint'),
  state('closing-burning', 'closing', 'out', 'steady'),
  state('closing-out', 'closing', 'out', 'fallen'),
  state('closing-dark', 'closing', 'dark', 'fallen'),
  state('closing-bright', 'closing', 'unknown', 'lingering'),
];

/** Whether gas is shut while the fan moves more air than at light-off. */
export const isMoreAir = ({ name }: Pick<HiddenState, 'name'>): boolean => name.endsWith('more-air');

/** Number of each hidden state by its name. */
export const stateNumber: ReadonlyMap<string, number> = new Map(hiddenStates.map(({ name }, i) => [name, i]));

/** Total probability of the hidden states with these numbers. */
export function sumOf(probabilities: Float64Array, numbers: readonly number[]): number {
  let sum = 0;
  for (const i of numbers) sum += probabilities[i]!;
  return sum;
}

/** Seconds of one step of the chain: a tenth of the second by which a live statement may be late. */
export const stepS = 0.1;

/**
 * How often a state ends in each way, times a second. A pilot stays in a state for seconds to minutes, and what is fast (valve,
 * shutter) is over in tenths; within a factor of three these rates change nothing, since readings outweigh them soon.
 */
const rates: readonly [from: string, to: string, perSecond: number][] = [
  ['shut-dark', 'opening', 1 / 60],
  // Sparks before the gas, and a line that is noisier than most.
  ['shut-dark', 'shut-disturbed', 1 / 180],
  ['shut-disturbed', 'shut-dark', 1 / 180],
  ['shut-disturbed', 'opening', 1 / 60],
  ['shut-out', 'opening', 1 / 60],
  ['shut-dark', 'shut-bright', 1 / 300],
  ['shut-out', 'shut-bright', 1 / 300],
  ['shut-bright', 'shut-dark', 1 / 30],
  ['shut-bright', 'opening', 1 / 120],
  ['shut-bright', 'opening-bright', 1 / 60],
  // A start begins with a purge: the damper opens for it, and closes again before light-off.
  ['shut-dark', 'shut-dark-more-air', 1 / 120],
  ['shut-dark-more-air', 'shut-dark', 1 / 120],
  ['shut-dark-more-air', 'opening', 1 / 240],
  ['shut-out', 'shut-out-more-air', 1 / 120],
  ['shut-out-more-air', 'shut-out', 1 / 120],
  ['shut-out-more-air', 'opening', 1 / 240],
  ['shut-bright', 'shut-bright-more-air', 1 / 120],
  ['shut-bright-more-air', 'shut-bright', 1 / 120],
  ['shut-bright-more-air', 'shut-dark-more-air', 1 / 30],
  ['shut-bright-more-air', 'opening', 1 / 480],
  ['shut-bright-more-air', 'opening-bright', 1 / 240],
  ['opening', 'unlit', 2.5],
  ['opening', 'sparking', 0.5],
  ['opening', 'lighting', 0.25],
  ['opening', 'opening-lighting', 0.25],
  ['opening-lighting', 'lighting', 2.5],
  // Behind a slow gauge a flame shows before its gas does.
  ['opening-bright', 'bright', 4],
  ['opening-bright', 'lighting', 0.5],
  ['opening-bright', 'burning', 0.2],
  ['opening-bright', 'unsteady', 0.1],
  ['opening-bright', 'unlit', 0.25],
  ['opening-bright', 'sparking', 0.25],
  // A flame that takes hold adds to it; else it is left about as often as a flame, or the time it lasts would decide between them.
  ['bright', 'lighting', 1 / 60],
  ['bright', 'unlit', 1 / 60],
  ['bright', 'sparking', 1 / 180],
  ['bright', 'closing-bright', 1 / 60],
  ['closing-bright', 'shut-bright', 2],
  ['closing-bright', 'bright', 0.02],
  ['opening', 'closing-dark', 0.05],
  // What stays dark, with gas shut too, is left equally often whatever its name: else the time it lasts would decide on the name.
  ['unlit', 'lighting', 1 / 180],
  ['unlit', 'sparking', 1 / 180],
  ['unlit', 'closing-dark', 1 / 180],
  ['sparking', 'lighting', 1 / 150],
  ['sparking', 'unlit', 1 / 180],
  ['sparking', 'closing-dark', 1 / 220],
  ['lighting', 'burning', 0.7],
  ['lighting', 'unsteady', 0.1],
  ['lighting', 'lost', 1 / 30],
  // A self-check comes when it is due, whether or not the signal has built up.
  ['lighting', 'pulse-1', 0],
  ['lighting', 'closing-out', 1 / 60],
  ['burning', 'unsteady', 1 / 60],
  ['burning', 'pulse-1', 0], // as seen, see `pulseRate`
  ['burning', 'lost', 1 / 400],
  ['burning', 'closing-burning', 1 / 60],
  ['burning', 'following', 1 / 10],
  ['following', 'burning', 1 / 2],
  ['following', 'unsteady', 1 / 60],
  ['following', 'pulse-1', 0],
  // A flame is lost where its signal sags already, or is blown out at rest.
  ['following', 'lost', 1 / 60],
  ['following', 'closing-burning', 1 / 60],
  // Turned down until it is hardly seen, a flame burns on, back again or is lost.
  ['following', 'faint', 1 / 10],
  ['unsteady', 'faint', 1 / 30],
  ['faint', 'following', 1 / 10],
  ['faint', 'unsteady', 1 / 60],
  ['faint', 'lost', 1 / 60],
  ['faint', 'closing-burning', 1 / 60],
  ['unsteady', 'following', 1 / 30],
  ['unsteady', 'burning', 1 / 8],
  ['unsteady', 'pulse-1', 0],
  ['unsteady', 'lost', 1 / 100],
  ['unsteady', 'closing-burning', 1 / 60],
  // A shutter is closed for a fifth of a second to most of one; a stage takes a step at least, and one pulse in a thousand a second.
  ['pulse-1', 'pulse-2', 8],
  ['pulse-2', 'pulse-3', 6],
  ['pulse-2', 'pulse-over', 2],
  ['pulse-3', 'pulse-4', 5.5],
  ['pulse-3', 'pulse-over', 2.5],
  ['pulse-4', 'pulse-over', 7],
  ['pulse-over', 'burning', 1.2],
  ['pulse-over', 'unsteady', 0.2],
  // Whoever sees that the flame is lost shuts the gas, more often than it comes back; both together as often as what stays dark is left.
  ['lost', 'lighting', 1 / 240],
  ['lost', 'lost-sparking', 1 / 480],
  ['lost', 'lost-glowing', 1 / 480],
  ['lost', 'closing-out', 1 / 120],
  ['lost-sparking', 'lighting', 1 / 120],
  ['lost-sparking', 'lost', 1 / 240],
  ['lost-sparking', 'closing-out', 1 / 240],
  ['lost-glowing', 'lost', 1 / 240],
  ['lost-glowing', 'lighting', 1 / 240],
  ['lost-glowing', 'closing-out', 1 / 120],
  ['closing-burning', 'closing-out', 3],
  ['closing-burning', 'burning', 0.05],
  ['closing-out', 'shut-out', 2],
  ['closing-out', 'lost', 0.02],
  ['closing-dark', 'shut-dark', 2],
  ['closing-dark', 'unlit', 0.02],
];

/**
 * While the regulator is turned a burning flame is lost this many times as often as at rest, once or twice in a sweep that goes to the
 * ends, and gas is shut this many times as often: the hand is not at the valve.
 */
const whileTurning: Readonly<Record<string, number>> = { lost: 3, 'closing-burning': 0.1 };

/**
 * The chain's transitions over one step of `stepS` seconds.
 *
 * @param pulsesPerS  how often the shutter of a self-checking detector closes
 * @param isTurning   the regulator is being turned
 * @param mayBeAir    pressure that comes on slowly may be more air than at light-off
 */
export function burnerTransitions(pulsesPerS: number, isTurning: boolean, mayBeAir: boolean): Transitions {
  const probability = new Float64Array(moves.length);
  const leaves = new Float64Array(hiddenStates.length);
  moves.forEach(({ from, to, perSecond, perSecondTurning }, k) => {
    if (from === to || (!mayBeAir && isMoreAir(hiddenStates[to]!))) return;
    const share = (to === firstPulse ? pulsesPerS : isTurning ? perSecondTurning : perSecond) * stepS;
    probability[k] = share;
    leaves[from]! += share;
  });
  moves.forEach(({ from, to }, k) => {
    if (from === to) probability[k] = 1 - leaves[from]!;
  });
  return { ...states, probability };
}

const firstPulse = stateNumber.get('pulse-1')!;
/** Every move that happens; to stay is one, with what the others leave. */
const { ordered: moves, ...states } = orderMoves(hiddenStates.length, [
  ...rates.map(([from, to, perSecond]) => ({
    from: stateNumber.get(from)!,
    to: stateNumber.get(to)!,
    perSecond,
    perSecondTurning: perSecond * (from === 'burning' ? (whileTurning[to] ?? 1) : 1),
  })),
  ...hiddenStates.map((_, own) => ({ from: own, to: own, perSecond: 0, perSecondTurning: 0 })),
]);

/** Pulses of a self-check expected before any was seen: as one in twenty seconds, believed as five seconds of watching are. */
const pulsePrior = { pulses: 0.25, seconds: 5 };

/** Pulses a second after `pulses` were seen in `seconds` of burning (mean of the gamma posterior of a Poisson rate). */
export const pulseRate = (pulses: number, seconds: number): number =>
  (pulsePrior.pulses + pulses) / (pulsePrior.seconds + seconds);

/** States in which a capture begins. A signal over shut gas is seldom, but seen: a stuck amplifier, a jumper left in the wiring. */
const likelyAtFirst = new Map([
  ['shut-dark', 0.7],
  ['shut-bright', 0.02],
  ['burning', 0.2],
  ['unlit', 0.015],
  ['unsteady', 0.02],
]);

/** Probabilities at the first reading: a capture mostly begins with the gas shut or with the pilot burning. What was there before gas nobody has seen then. */
export const initialStates: Float64Array = Float64Array.from(hiddenStates, ({ name, pattern }) => {
  if (pattern === 'lingering') return 0;
  return likelyAtFirst.get(name) ?? 0.03 / (hiddenStates.length - likelyAtFirst.size);
});
