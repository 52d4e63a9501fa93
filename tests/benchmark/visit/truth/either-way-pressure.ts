import { type Simulated, indexOf } from '../simulated.ts';
import type { Add, Where } from './spans.ts';
import type { Labels } from './states.ts';
import { turnsOf } from './turning.ts';

/** Valve, line and regulator. */
export function gasAndRegulator(simulated: Simulated, labels: Labels, add: Add, where: Where): void {
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
