import type { Draws } from './families.ts';

/** How a hand turns the regulator. */
export interface Hand {
  /** Pressures that it goes to, one after the other, from the first. */
  legs: number[];
  /** Mean speed of turning, inH2O a second. */
  speed: number;
  /** Even: one turn; jerks: short turns and waits; stairs: even turns and long waits; uneven: an even turn whose speed changes. */
  style: 'even' | 'jerks' | 'stairs' | 'uneven';
  /** Seconds at each end of a leg. */
  restS: number;
  /** Share of the turns of a jerking hand that go a little back. */
  back: number;
}

/** Step of the simulation, seconds. */
export const stepS = 0.02;

/** The pressure that the regulator is set to, step by step. */
export function turn({ legs, speed, style, restS, back }: Hand, { random, between }: Draws): number[] {
  const path: number[] = [];
  let at = legs[0]!;
  const go = (to: number, seconds: number) => {
    const n = Math.max(1, Math.round(seconds / stepS));
    for (let i = 1; i <= n; i += 1) path.push(at + ((to - at) * i) / n);
    at = to;
  };
  const rest = (seconds: number) => go(at, seconds);
  rest(restS + 2);
  for (const target of legs.slice(1)) {
    const way = Math.sign(target - at);
    if (style === 'even') go(target, Math.abs(target - at) / speed);
    else
      while ((target - at) * way > 1e-9) {
        const size = style === 'stairs' ? 0.12 : style === 'uneven' ? 0.15 : between(0.04, 0.22);
        const isBack = style === 'jerks' && random.uniform() < back;
        const next = isBack ? at - way * between(0.02, 0.08) : at + way * Math.min(size, (target - at) * way);
        const seconds = Math.abs(next - at) / speed;
        if (style === 'uneven') go(next, seconds * between(0.4, 2.2));
        else {
          go(next, Math.min(0.4, 0.5 * seconds));
          rest(style === 'stairs' ? between(2.5, 5) : seconds * between(0.3, 1.6));
        }
      }
    rest(restS);
  }
  return path;
}
