import type { Random } from '../../../shared/numerics/random.ts';

/** Motion of the regulator. Pressures in inH2O, times in s. */
export interface RegulatorMotion {
  tested: [number, number];
  /** inH2O a second of an even turn; with `stairs` the time goes into dwells instead. */
  speed: number;
  stairs: boolean;
  /** One way only; otherwise from the middle down, up through everything, and back to the middle. */
  way?: 'down' | 'up';
  /** How often it goes down and up; once if not given. */
  rounds?: number;
  /** Long dwells on the way: at a pressure, on the leg of that number. */
  rests?: { leg: number; pressure: number; seconds: number }[];
}

/** A moment and the pressure that the regulator is set to by then. */
export type Corner = [seconds: number, pressure: number];

/** The pressure that the regulator is set to over time, as corners of a polyline. */
export function regulatorPath(motion: RegulatorMotion, random: Random): Corner[] {
  const { start, targets } = journey(motion);
  const path: Corner[] = [
    [0, start],
    [4, start],
  ];
  targets.forEach((target, leg) => {
    const rests = (motion.rests ?? []).filter((rest) => rest.leg === leg);
    const from = path.at(-1)![1];
    // In the order in which they are passed.
    rests.sort((a, b) => Math.abs(a.pressure - from) - Math.abs(b.pressure - from));
    for (const { pressure, seconds } of rests) {
      const [t, at] = path.at(-1)!;
      const arrived = t + Math.abs(pressure - at) / motion.speed;
      path.push([arrived, pressure], [arrived + seconds, pressure]);
    }
    if (motion.stairs) climb(path, target, random);
    else glide(path, target, motion.speed);
  });
  return path;
}

function journey({ tested: [low, high], way, rounds = 1 }: RegulatorMotion): { start: number; targets: number[] } {
  if (way === 'down') return { start: high, targets: [low] };
  if (way === 'up') return { start: low, targets: [high] };
  const middle = (low + high) / 2;
  return { start: middle, targets: [...Array.from({ length: rounds }, () => [low, high]).flat(), middle] };
}

function climb(path: Corner[], target: number, random: Random): void {
  const [start, from] = path.at(-1)!;
  let t = start;
  const steps = Math.max(1, Math.round(Math.abs(target - from) / 0.12));
  for (let k = 1; k <= steps; k += 1) {
    const level = from + ((target - from) * k) / steps;
    path.push([t + 0.4, level]);
    t += 2.5 + 2.5 * random.uniform();
    path.push([t, level]);
  }
}

function glide(path: Corner[], target: number, speed: number): void {
  const [t, from] = path.at(-1)!;
  const arrived = t + Math.abs(target - from) / speed;
  // The regulator rests at the turning points for longer than any meter lags.
  path.push([arrived, target], [arrived + 4, target]);
}
