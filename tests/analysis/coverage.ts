/**
 * Measures what the intervals are worth: over simulated sweeps with a known truth, how often each interval holds it.
 * Run: node tests/analysis/coverage.ts [sweeps of each kind] [first seed]
 */
import { analyze } from '../../shared/analysis/analyze.ts';
import { drawSweep, kinds } from './simulated-sweep.ts';

const count = Number(process.argv[2] ?? 30);
const first = Number(process.argv[3] ?? 1);

class Tally {
  inside = 0;
  count = 0;
  squares = 0;
  width = 0;
  add(value: number, [low, high]: [number, number], truth: number): void {
    this.count += 1;
    if (low <= truth && truth <= high) this.inside += 1;
    this.squares += (value - truth) ** 2;
    this.width += high - low;
  }
  text(): string {
    if (this.count === 0) return '-'.padEnd(26);
    const held = `${this.inside}/${this.count}`.padStart(8);
    return `${held} rms ${Math.sqrt(this.squares / this.count).toFixed(4)} w ${(this.width / this.count).toFixed(3)}`.padEnd(
      28,
    );
  }
}

const names = ['low', 'high', 'plateau', 'lag'] as const;
const all = Object.fromEntries(names.map((name) => [name, new Tally()])) as Record<(typeof names)[number], Tally>;
let wrong = 0;
console.log(
  `seeds ${first} to ${first + count - 1}; held/all, root mean square error, mean width of the 95 % interval`,
);
console.log('kind'.padEnd(16), 'wrong', names.map((name) => name.padEnd(28)).join(''));
for (const kind of kinds.filter((k) => !process.argv[4] || process.argv[4].split(',').includes(k))) {
  const here = Object.fromEntries(names.map((name) => [name, new Tally()])) as typeof all;
  const bad: string[] = [];
  for (let seed = first; seed < first + count; seed += 1) {
    const { capture, truth } = drawSweep(kind, seed);
    const found = analyze(capture);
    if (!found.ok) {
      bad.push(`${seed}: ${found.fault.code}`);
      continue;
    }
    const { result } = found.value;
    const { status, low, high } = result.signalInterval;
    if (status !== truth.status) bad.push(`${seed}: ${status} for ${truth.status}`);
    const judge = (name: (typeof names)[number], value: number, ci: [number, number], true_: number) => {
      here[name].add(value, ci, true_);
      all[name].add(value, ci, true_);
    };
    if (low?.bounded && truth.low !== undefined) judge('low', low.value, low.ci, truth.low);
    if (high?.bounded && truth.high !== undefined) judge('high', high.value, high.ci, truth.high);
    judge('plateau', result.plateau.value, result.plateau.ci, truth.plateau);
    judge('lag', result.lag_s.value, result.lag_s.ci, truth.lagS);
  }
  wrong += bad.length;
  console.log(
    kind.padEnd(16),
    String(bad.length).padEnd(5),
    names.map((name) => here[name].text()).join(''),
    bad.slice(0, 6).join('; '),
  );
}
console.log('all'.padEnd(16), String(wrong).padEnd(5), names.map((name) => all[name].text()).join(''));
