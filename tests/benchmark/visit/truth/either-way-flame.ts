import { type Simulated, indexOf, runsOf, timeOf } from '../simulated.ts';
import type { TrueLoss } from '../types.ts';
import type { Add, Where } from './spans.ts';
import type { Opening } from './events.ts';
import { type Labels, lightingEnds } from './states.ts';

/** Flicker, as a share of the plateau, between which a flame may be called burning or unsteady. */
const unsteadyBetween: [number, number] = [0.05, 0.12];

/** A flame that came back, or was shut off, sooner than any detector could say that it was lost: nobody has to notice. */
const unseen = (loss: TrueLoss) => loss.earliestToldShutter_s === undefined;

export function flames(
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
    add('flame', indexOf(loss.at_s), indexOf(loss.earliestToldShutter_s ?? end), ['burning', 'unsteady', 'lost'], true);
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
