import { type Simulated, indexOf, runsOf } from '../simulated.ts';

export interface Turn {
  from: number;
  to: number;
  way: -1 | 1;
  /** How far the spring moved, inH2O. */
  travel: number;
}

/** Seconds of pause after which a turn in the same direction is another turn. */
const pauseS = 1.5;

/**
 * Turns of the regulator as its spring feels them: inside the dead band or at the end of the spring the screw turns but
 * nothing else does. Jerks in one direction with short pauses between are one turn.
 */
export function turnsOf({ trace, n }: Simulated): Turn[] {
  const way = Array.from({ length: n }, (_, i) => (i === 0 ? 0 : Math.sign(trace.stand[i]! - trace.stand[i - 1]!)));
  const turns: Turn[] = [];
  for (const run of runsOf(way)) {
    if (run.value === 0) continue;
    const last = turns.at(-1);
    const together = last && last.way === run.value && run.from - last.to < indexOf(pauseS);
    const travel = Math.abs(trace.stand[run.to - 1]! - trace.stand[Math.max(0, run.from - 1)]!);
    if (together) {
      last.to = run.to;
      last.travel += travel;
    } else turns.push({ from: run.from, to: run.to, way: run.value as -1 | 1, travel });
  }
  return turns;
}
