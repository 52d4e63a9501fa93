import { type Simulated, indexOf, runsOf, timeOf } from '../simulated.ts';
import type { EitherWay, StateName, TrueLoss } from '../types.ts';
import { type Opening, proofOf } from './events.ts';
import { airShown, type Labels, lightingEnds } from './states.ts';
import { turnsOf } from './turning.ts';

/** Flicker, as a share of the plateau, between which a flame may be called burning or unsteady. */
const unsteadyBetween: [number, number] = [0.05, 0.12];

/** A flame that came back, or was shut off, sooner than any detector could say that it was lost: nobody has to notice. */
const unseen = (loss: TrueLoss) => loss.earliestDetectable_s === undefined;

/**
 * Spans in which more than one word is right: where a definition has a limit that meters cannot resolve, or two
 * conventions disagree. Nothing here depends on how somebody recognizes the states.
 */
export function eitherWayOf(
  simulated: Simulated,
  labels: Labels,
  openings: Opening[],
  losses: TrueLoss[],
): EitherWay[] {
  const spans: EitherWay[] = [];
  const { n } = simulated;
  const add = (of: StateName, from: number, to: number, words: string[], live?: true) => {
    const [start, end] = [Math.max(0, from), Math.min(n, to)];
    if (end > start)
      spans.push({ of, from_s: timeOf(start), to_s: timeOf(end), words: [...new Set(words)], ...(live && { live }) });
  };
  const where: Where = (of, words, met, { from = 0, to = n, live } = {}) => {
    let start = -1;
    for (let i = Math.max(0, from); i <= Math.min(n, to); i += 1) {
      const holds = i < Math.min(n, to) && met(i);
      if (holds && start < 0) start = i;
      if (!holds && start >= 0) {
        add(of, start, i, words, live);
        start = -1;
      }
    }
  };
  slowMeters(simulated, labels, add);
  flames(simulated, labels, openings, losses, add, where);
  gasAndRegulator(simulated, labels, add, where);
  phases(simulated, labels, openings, add, where);
  return spans;
}

type Add = (of: StateName, from: number, to: number, words: string[], live?: true) => void;
/** Adds each run of steps, of all or of some, in which a condition is met. */
type Where = (
  of: StateName,
  words: string[],
  met: (i: number) => boolean,
  part?: { from?: number; to?: number; live?: true },
) => void;

/** A change is not placed more finely than the meter reads. */
function slowMeters({ instruments }: Simulated, labels: Labels, add: Add): void {
  const slowest = Math.max(1 / instruments.manometer.hz, 1 / instruments.signal.hz);
  const reading = {
    gas: 1 / instruments.manometer.hz,
    regulator: 1 / instruments.manometer.hz,
    flame: slowest,
    phase: slowest,
  };
  for (const state of ['gas', 'flame', 'regulator', 'phase'] as const) {
    if (reading[state] <= 0.5) continue;
    const around = indexOf(1.5 * reading[state]);
    const runs = runsOf<string>(labels[state]);
    runs.forEach((run, k) => {
      if (k > 0) add(state, run.from - around, run.from + around, [runs[k - 1]!.value, run.value]);
      // A word that lasts less than two readings may go by unseen.
      if (k > 0 && k + 1 < runs.length && run.to - run.from < 2 * indexOf(reading[state]))
        add(state, run.from - around, run.to + around, [runs[k - 1]!.value, run.value, runs[k + 1]!.value]);
    });
  }
}

function flames(
  simulated: Simulated,
  labels: Labels,
  openings: Opening[],
  losses: TrueLoss[],
  add: Add,
  where: Where,
): void {
  const { trace, facts, plateau, instruments } = simulated;
  const { dark, flickerS, lagS, deadS } = facts.detector;
  const level = plateau - dark;
  const burns = (i: number) => labels.flame[i] === 'burning' || labels.flame[i] === 'unsteady';
  where('flame', ['burning', 'unsteady'], (i) => {
    const share = trace.flicker[i]! / level;
    return burns(i) && share > unsteadyBetween[0] && share < unsteadyBetween[1];
  });
  // A deviation takes some independent values to be known.
  const blurred = indexOf(1 + 3 * (flickerS + lagS) + 3 / instruments.signal.hz);
  for (const run of runsOf(labels.flame)) {
    if (run.value !== 'unsteady') continue;
    const short = run.to - run.from < 2 * blurred;
    const edges = short
      ? [[run.from - blurred, run.to + blurred]]
      : [run.from, run.to].map((at) => [at - blurred, at + blurred]);
    for (const [from, to] of edges) where('flame', ['burning', 'unsteady'], burns, { from, to });
  }
  const tail = indexOf(deadS + 3 * lagS);
  for (const run of runsOf(trace.gust.map((depth) => depth > 0)))
    if (run.value) where('flame', ['burning', 'unsteady'], burns, { from: run.from, to: run.to + tail });
  for (const { flames: lit } of openings)
    for (const { from, to } of lit) {
      if (from === 0) continue;
      const before = labels.flame[from - 1]!;
      const seen = visibleFrom(simulated, from, to);
      add('flame', from, seen + indexOf(1 / instruments.signal.hz), [before, 'lighting']);
      const end = lightingEnds(simulated, from, to);
      const early = proofAt(simulated, from, to, 0.6) ?? from;
      const late = proofAt(simulated, from, to, 0.95) ?? end + indexOf(3 * lagS);
      add('flame', early, Math.max(late, end + indexOf(0.5)), [
        'lighting',
        'burning',
        labels.flame[Math.min(end, labels.flame.length - 1)]!,
      ]);
    }
  for (const loss of losses) {
    const end = loss.relitAt_s ?? loss.gasShutAt_s ?? timeOf(simulated.n);
    add('flame', indexOf(loss.at_s), indexOf(loss.earliestDetectable_s ?? end), ['burning', 'unsteady', 'lost'], true);
    if (unseen(loss))
      add('flame', indexOf(loss.at_s), indexOf(end + deadS + 4 * lagS), ['burning', 'unsteady', 'lost', 'lighting']);
  }
  // A flame that hardly reaches the detector is as good as lost to whoever has only its signal.
  where('flame', ['burning', 'unsteady', 'lost'], (i) => burns(i) && trace.steady[i]! - dark < 0.08 * level);
  // While the gas runs out the flame may be called lost or out, and the line still holds a little for it to burn.
  where(
    'flame',
    ['lost', 'out'],
    (i) => labels.gas[i] === 'closing' && (labels.flame[i] === 'out' || labels.flame[i] === 'lost'),
  );
  where('flame', ['lost', 'out'], (i) => labels.gas[i] === 'flowing' && !trace.valve[i]! && labels.flame[i] === 'lost');
}

/** When the signal of a flame lit at `from` first stands out from its noise. */
function visibleFrom({ trace, instruments, plateau }: Simulated, from: number, to: number): number {
  const base = trace.signal[from]!;
  const least = Math.max(4 * instruments.signal.noise, 2 * instruments.signal.digit, 0.03 * plateau);
  for (let i = from; i < to; i += 1) if (trace.signal[i]! - base > least) return i;
  return to;
}

function proofAt({ trace, facts }: Simulated, from: number, to: number, part: number): number | undefined {
  const { dark, clip } = facts.detector;
  for (let i = from; i < to; i += 1)
    if (trace.signal[i]! - dark >= part * (Math.min(clip, trace.steady[i]!) - dark)) return i;
  return undefined;
}

function gasAndRegulator(simulated: Simulated, labels: Labels, add: Add, where: Where): void {
  const { trace, instruments } = simulated;
  const { digit, noise, hz } = instruments.manometer;
  const flowing = (i: number) => labels.gas[i] === 'flowing' || labels.gas[i] === 'opening';
  where('regulator', ['at-rest', 'settling'], (i) => {
    const off = Math.abs(trace.pressure[i]! - trace.stand[i]!);
    const still = labels.regulator[i] === 'at-rest' || labels.regulator[i] === 'settling';
    return flowing(i) && still && off > 0.01 * trace.stand[i]! && off < 0.03 * trace.stand[i]! + 2 * digit + 3 * noise;
  });
  where('regulator', ['settling', 'unknown'], (i) => labels.gas[i] === 'opening' || labels.gas[i] === 'closing');
  // What leaks through a shut valve looks like a regulator that was turned out.
  const anyOfThem = ['at-rest', 'settling', 'turning-out', 'turning-in', 'unknown'];
  where('regulator', anyOfThem, (i) => !trace.valve[i]! && labels.gas[i] !== 'shut' && slowToFall(simulated, i));
  // Shut, and gas still coming through: running out or flowing on.
  where(
    'gas',
    ['closing', 'flowing'],
    (i) => !trace.valve[i]! && (labels.gas[i] === 'closing' || labels.gas[i] === 'flowing') && i > 0,
  );
  // A turn shows as soon as it has moved the display by two digits or three deviations of its noise, and once more.
  const least = Math.max(2 * digit, 3 * noise, 0.005 * simulated.facts.curve.high);
  for (const turn of turnsOf(simulated)) {
    const word = turn.way > 0 ? 'turning-in' : 'turning-out';
    const words = ['at-rest', 'settling', word];
    if (turn.travel < 2 * least) add('regulator', turn.from, turn.to + indexOf(1 / hz), words);
    let [first, last] = [turn.from, turn.to - 1];
    while (first < turn.to && Math.abs(trace.stand[first]! - trace.stand[turn.from]!) < least) first += 1;
    while (last > turn.from && Math.abs(trace.stand[last]! - trace.stand[turn.to - 1]!) < least) last -= 1;
    add('regulator', turn.from, first, words);
    add('regulator', last, turn.to, words);
    pauses(simulated, turn, words, add);
  }
}

/** Whether the valve was shut more than two seconds ago. */
const slowToFall = ({ trace }: Simulated, i: number) => !trace.valve[Math.max(0, i - indexOf(2))];

/** Pauses inside a turn that lie about the limit of one turn: still turning or at rest between. */
function pauses({ trace }: Simulated, turn: { from: number; to: number }, words: string[], add: Add): void {
  let still = turn.from;
  for (let i = turn.from + 1; i < turn.to; i += 1) {
    if (trace.stand[i] === trace.stand[i - 1]) continue;
    if (i - still > indexOf(0.8)) add('regulator', still, i, words);
    still = i;
  }
}

function phases(simulated: Simulated, labels: Labels, openings: Opening[], add: Add, where: Where): void {
  const { trace, n, facts, trialS, instruments, plateau } = simulated;
  for (const { from, to, flames: lit } of openings) {
    const first = lit.find((run) => run.from >= from);
    if (first && first.from > 0) {
      const { half_s, eighty_s, proved_s } = proofOf(simulated, first.from, to);
      const known = [half_s, eighty_s, proved_s].filter((t) => t !== undefined).map(indexOf);
      add(
        'phase',
        Math.min(...known, to),
        Math.max(...known, first.from) + indexOf(1 / instruments.signal.hz),
        ['trial', 'held', 'unknown'].slice(0, first.from > from + indexOf(trialS) ? 3 : 2),
      );
    }
    // Gas without a flame when the trial is over has no word of its own.
    where('phase', ['unknown', 'trial', 'held'], (i) => labels.phase[i] === 'unknown', { from, to });
    // Gas shut, the signal not yet dark: no purge so far.
    let bright = to;
    while (bright < n && !trace.valve[bright]! && trace.signal[bright]! - facts.detector.dark > 0.03 * plateau)
      bright += 1;
    const before = labels.phase[Math.max(0, to - 1)]!;
    add('phase', to, bright + indexOf(0.5), [before, 'wait', labels.phase[Math.min(n - 1, bright)]!]);
  }
  const shut = (i: number) => labels.gas[i] === 'shut';
  const spinning = (i: number) => trace.fanSpeed[i]! > 0.2 && trace.fanSpeed[i]! < 0.95;
  where(
    'phase',
    ['wait', 'purge'],
    (i) => (labels.phase[i] === 'wait' || labels.phase[i] === 'purge') && instruments.fan && spinning(i),
  );
  where('phase', ['before-gas', 'purge'], (i) => labels.phase[i] === 'before-gas' && shut(i) && airShown(simulated, i));
  where('phase', ['wait', 'purge', 'after'], (i) => labels.phase[i] === 'after', { live: true });
  // Gas that leaks through a shut valve: neither held by anybody nor a wait.
  where(
    'phase',
    ['held', 'trial', 'wait', 'unknown'],
    (i) => !trace.valve[i]! && labels.gas[i] !== 'shut' && (labels.phase[i] === 'held' || labels.phase[i] === 'trial'),
  );
}
