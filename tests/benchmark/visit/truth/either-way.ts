import { type Simulated, indexOf, runsOf } from '../simulated.ts';
import type { EitherWay, TrueLoss } from '../types.ts';
import { flames } from './either-way-flame.ts';
import { gasAndRegulator } from './either-way-pressure.ts';
import { type Opening, proofOf } from './events.ts';
import { type Add, collectSpans, type Where } from './spans.ts';
import { airShown, type Labels } from './states.ts';

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
  const { spans, add, where } = collectSpans(simulated.n);
  slowMeters(simulated, labels, add);
  flames(simulated, labels, openings, losses, add, where);
  gasAndRegulator(simulated, labels, add, where);
  phases(simulated, labels, openings, add, where);
  return spans;
}

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
